package document

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// html writes a table in a box of its own, which scrolls where the screen is
// narrower than the table, from the keyboard too.
func (b Table) html(h *htmlWriter) {
	label := b.Caption
	if label == "" {
		label = b.heads()
	}
	h.scroll(label)
	h.raw("<table>\n")
	if b.Caption != "" {
		h.element("caption", "", Plain(b.Caption))
	}
	if b.heads() != "" {
		h.raw("<thead>\n<tr>")
		for _, c := range b.Columns {
			c.Large = false
			h.cell(c.headElement(), c.class(), Plain(c.Head))
		}
		h.raw("</tr>\n</thead>\n")
	}
	h.raw("<tbody>\n")
	for _, row := range b.Rows {
		h.raw("<tr>")
		for i, cell := range row {
			h.cell("td", classes(b.Columns[i].class(), prose(cell)), cell)
		}
		h.raw("</tr>\n")
	}
	h.raw("</tbody>\n</table>\n</div>\n")
}

// cell writes a cell; name is its element, with attributes where it has any.
func (h *htmlWriter) cell(name, class string, t Text) {
	h.open(name, class)
	h.text(t)
	name, _, _ = strings.Cut(name, " ")
	h.rawf("</%s>", name)
}

// heads are the heads of all columns that have one.
func (b Table) heads() string {
	var heads []string
	for _, c := range b.Columns {
		if c.Head != "" {
			heads = append(heads, c.Head)
		}
	}
	return strings.Join(heads, ", ")
}

// headElement is the element of a column's head: an empty one heads nothing.
func (c Column) headElement() string {
	if c.Head == "" {
		return "td"
	}
	return `th scope="col"`
}

func (c Column) class() string {
	right, blank, large := "", "", ""
	if c.Right {
		right = "right"
	}
	if c.Blank {
		blank = "blank"
	}
	if c.Large {
		large = "large"
	}
	return classes(right, blank, large)
}

// prose is the class of a cell that may be broken into lines. Numbers, names of
// parts and the like may not: where they are too wide the table scrolls.
func prose(cell Text) string {
	const short = 28 // letters
	if utf8.RuneCountInString(cell.String()) > short {
		return "prose"
	}
	return ""
}

func classes(names ...string) string {
	return strings.Join(slices.DeleteFunc(names, func(n string) bool { return n == "" }), " ")
}
