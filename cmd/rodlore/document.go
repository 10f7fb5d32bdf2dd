package main

import (
	"strings"

	"rodlore/catalogue/pages/document"
)

// showDocument prints a document as the other commands print: headings, tables
// that line up, text in the width of the terminal. What a screen of letters
// cannot show is left out.
func (p *printer) showDocument(d *document.Document) {
	p.println(p.paint(bold, d.Title))
	afterTable := false
	for _, b := range d.Blocks {
		if _, heading := b.(document.Heading); afterTable && !heading {
			p.println()
		}
		p.showBlock(b)
		_, afterTable = b.(document.Table)
	}
}

func (p *printer) showBlock(b document.Block) {
	switch b := b.(type) {
	case document.Heading:
		p.println()
		p.println(p.paint(bold, b.Text))
	case document.Paragraph:
		p.wrapped("  ", document.Text(b).String())
	case document.Quote:
		p.wrapped("  ", "“"+document.Text(b).String()+"”")
	case document.Table:
		p.print("  ", textTable(b))
	case document.Beside:
		for _, inner := range append(b.Left, b.Right...) {
			p.showBlock(inner)
		}
	case document.List:
		p.showItems("-", b.Items)
	case document.Checklist:
		p.showItems("[ ]", b.Items)
	case document.Caution:
		p.wrapped("  ", b.Title+": "+b.Text.String())
	}
}

// showItems prints a list behind a sign.
func (p *printer) showItems(sign string, items []document.Text) {
	t := newTable(words(""), filling(""))
	for _, item := range items {
		t.add(sign, item.String())
	}
	p.print("  ", t)
}

// textTable is a table of plain cells, in which words break into lines.
func textTable(from document.Table) table {
	var t table
	for _, c := range from.Columns {
		t.columns = append(t.columns, column{head: c.Head, right: c.Right, wraps: !c.Right})
	}
	for _, row := range from.Rows {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = strings.TrimSpace(cell.String())
		}
		t.add(cells...)
	}
	return t
}
