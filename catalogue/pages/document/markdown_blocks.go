package document

import (
	"fmt"
	"strings"

	"rodlore/catalogue/pages/drawing"
)

func (b Heading) markdown(m *markdownWriter) {
	a := m.anchors[m.next]
	m.next++
	if a.given {
		m.block(fmt.Sprintf(`<a id="%s"></a>`, a.id))
	}
	m.heading(b.Level, b.Text)
}

func (b Paragraph) markdown(m *markdownWriter) { m.block(atStart(inline(Text(b)))) }

func (b List) markdown(m *markdownWriter) {
	m.list(b.Items, func(i int) string {
		if b.Ordered {
			return fmt.Sprintf("%d. ", i+1)
		}
		return "- "
	})
}

func (b Checklist) markdown(m *markdownWriter) {
	m.list(b.Items, func(int) string { return "- [ ] " })
}

func (m *markdownWriter) list(items []Text, bullet func(int) string) {
	lines := make([]string, len(items))
	for i, item := range items {
		lines[i] = bullet(i) + atStart(inline(item))
	}
	m.block(strings.Join(lines, "\n"))
}

func (b Table) markdown(m *markdownWriter) {
	if b.Caption != "" {
		m.block(inline(Bold(b.Caption)))
	}
	heads, rules := make([]string, len(b.Columns)), make([]string, len(b.Columns))
	for i, c := range b.Columns {
		heads[i], rules[i] = escaped(c.Head), "---"
		if c.Right {
			rules[i] = "---:"
		}
	}
	lines := []string{tableLine(heads), tableLine(rules)}
	for _, row := range b.Rows {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = inline(cell)
		}
		lines = append(lines, tableLine(cells))
	}
	m.block(strings.Join(lines, "\n"))
}

func tableLine(cells []string) string { return "| " + strings.Join(cells, " | ") + " |" }

func (b Figure) markdown(m *markdownWriter) {
	m.picture(b.Picture)
	if len(b.Caption) > 0 {
		m.block(atStart(inline(b.Caption)))
	}
	if b.Picture.Notes != "" {
		m.block(atStart(inline(Plain(b.Picture.Notes))))
	}
}

func (b Leaf) markdown(m *markdownWriter) { m.picture(b.Picture) }

// picture says what one would see.
func (m *markdownWriter) picture(p *drawing.Picture) {
	t := Text{{Text: p.Title, Bold: true}}
	if p.Description != "" {
		t = append(t, Span{Text: " " + p.Description})
	}
	m.block("> " + atStart(inline(t)))
}

func (b Quote) markdown(m *markdownWriter) { m.block("> " + atStart(inline(Text(b)))) }

func (b Caution) markdown(m *markdownWriter) {
	m.block("> " + inline(Bold(b.Title)) + "\n>\n> " + atStart(inline(b.Text)))
}

func (b Terms) markdown(m *markdownWriter) {
	lines := make([]string, len(b))
	for i, t := range b {
		lines[i] = "- " + inline(append(Text{{Text: t.Word, Bold: true}, {Text: ": "}}, t.Text...))
	}
	m.block(strings.Join(lines, "\n"))
}

func (b Contents) markdown(m *markdownWriter) {
	m.block(inline(Bold(b.Title)))
	m.list(contents(m.anchors), func(i int) string { return fmt.Sprintf("%d. ", i+1) })
}

// Markdown folds nothing.
func (b Details) markdown(m *markdownWriter) {
	m.block(inline(Bold(b.Summary)))
	m.blocks(b.Blocks)
}

func (b Beside) markdown(m *markdownWriter) {
	m.blocks(b.Left)
	m.blocks(b.Right)
}
