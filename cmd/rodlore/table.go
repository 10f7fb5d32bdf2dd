package main

import (
	"slices"
	"strings"

	"github.com/mattn/go-runewidth"

	"rodlore/catalogue/say"
)

// table is rows of cells in columns that line up.
type table struct {
	columns []column
	rows    [][]string // a nil row is an empty line
	drawn   bool       // it has pictures made of letters
}

// column is one column of a table.
type column struct {
	head  string
	right bool // numbers stand at the right
	wraps bool // breaks into lines where the width there is does not do
}

// Columns of words, of numbers, and of words that break into lines.
func words(head string) column   { return column{head: head} }
func numbers(head string) column { return column{head: head, right: true} }
func filling(head string) column { return column{head: head, wraps: true} }

func newTable(columns ...column) table { return table{columns: columns} }

const columnGap = "  "

func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

// print writes the table into the program's width, behind an indent. Columns
// without any content are left out, and so is a heading where no column has
// one.
func (p *printer) print(indent string, t table) {
	switch {
	case p.page != nil && t.drawn:
		p.page.lines(p, false)
		defer p.page.lines(p, true)
	case p.page != nil:
		p.page.table(p, t)
		return
	}
	t = t.filled()
	widths := t.widths(p.width() - runewidth.StringWidth(indent))
	heads := say.Each(t.columns, func(c column) string { return c.head })
	if strings.Join(heads, "") != "" {
		for _, l := range t.lines(heads, widths) {
			p.println(indent + p.paint(bold, l))
		}
	}
	for _, row := range t.rows {
		if row == nil {
			p.println()
			continue
		}
		p.indented(indent, t.lines(row, widths))
	}
}

// filled is the table without columns that have no content.
func (t table) filled() table {
	filled := table{rows: make([][]string, len(t.rows))}
	for i, c := range t.columns {
		if !slices.ContainsFunc(t.rows, func(row []string) bool { return row != nil && row[i] != "" }) {
			continue
		}
		filled.columns = append(filled.columns, c)
		for n, row := range t.rows {
			if row != nil {
				filled.rows[n] = append(filled.rows[n], row[i])
			}
		}
	}
	return filled
}

// widths gives the columns their widths. Where they are more than the total, the widest
// of those that wrap become narrower, but not narrower than can be read.
func (t table) widths(total int) []int {
	const least = 16
	widths := make([]int, len(t.columns))
	over := -total - len(columnGap)
	for i, c := range t.columns {
		widths[i] = runewidth.StringWidth(c.head)
		for _, row := range t.rows {
			if row != nil {
				widths[i] = max(widths[i], runewidth.StringWidth(row[i]))
			}
		}
		over += widths[i] + len(columnGap)
	}
	for ; over > 0; over-- {
		widest := -1
		for i, c := range t.columns {
			if c.wraps && widths[i] > least && (widest < 0 || widths[i] > widths[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			break
		}
		widths[widest]--
	}
	return widths
}

// width is how wide the table is printed where it may be so wide.
func (t table) width(total int) int {
	width := -len(columnGap)
	for _, w := range t.filled().widths(total) {
		width += w + len(columnGap)
	}
	return width
}

// lines lays out one row, which has several lines where a cell wraps.
func (t table) lines(row []string, widths []int) []string {
	cells := make([][]string, len(row))
	height := 1
	for i, text := range row {
		cells[i] = []string{text}
		if t.columns[i].wraps {
			cells[i] = wrap(text, widths[i])
		}
		height = max(height, len(cells[i]))
	}
	lines := make([]string, height)
	for n := range lines {
		var parts []string
		for i, c := range t.columns {
			text := ""
			if n < len(cells[i]) {
				text = cells[i][n]
			}
			if c.right {
				text = runewidth.FillLeft(text, widths[i])
			} else {
				text = runewidth.FillRight(text, widths[i])
			}
			parts = append(parts, text)
		}
		lines[n] = strings.TrimRight(strings.Join(parts, columnGap), " ")
	}
	return lines
}
