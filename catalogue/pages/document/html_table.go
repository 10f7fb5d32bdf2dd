package document

import (
	"strings"
	"unicode/utf8"
)

// Heads are the heads of all columns that have one.
func (b Table) Heads() string {
	var heads []string
	for _, c := range b.Columns {
		if c.Head != "" {
			heads = append(heads, c.Head)
		}
	}
	return strings.Join(heads, ", ")
}

// HeadClass is the class of the head of a column, in HTML.
func (c Column) HeadClass() string {
	var names []string
	if c.Right {
		names = append(names, "right")
	}
	if c.Blank {
		names = append(names, "blank")
	}
	return strings.Join(names, " ")
}

// CellClass is that of a cell in it. Prose may be broken into lines. Numbers, names of
// parts and the like may not: where they are too wide the table scrolls.
func (c Column) CellClass(cell Text) string {
	const short = 28 // letters
	names := strings.Fields(c.HeadClass())
	if c.Large {
		names = append(names, "large")
	}
	if utf8.RuneCountInString(cell.String()) > short {
		names = append(names, "prose")
	}
	return strings.Join(names, " ")
}
