package document

import (
	"math"
	"slices"

	"rodlore/catalogue/pages/drawing"
)

const (
	between = 4.  // columns, mm
	writing = 24. // width of a column to fill in by hand, mm
)

// A table's head stands again where the table goes on at the top of a page.
func (b Table) pdf(p *pdfWriter, width float64) []strip {
	widths := p.widths(b, width)
	strips := together(p.flow(Plain(b.Caption), quietLetters, width))
	var head *strip
	if b.Heads() != "" {
		row := together(p.row(b, b.headCells(), widths, headRow))
		head = &row[0]
		strips = append(strips, row...)
	}
	style := bodyRow
	if slices.ContainsFunc(b.Columns, func(c Column) bool { return c.Blank }) {
		style.padding *= 1.6
	}
	for _, cells := range b.Rows {
		for _, s := range p.row(b, cells, widths, style) {
			s.head = head
			strips = append(strips, s)
		}
	}
	return spaced(strips, gap)
}

func (b Table) headCells() []Text {
	cells := make([]Text, len(b.Columns))
	for i, c := range b.Columns {
		cells[i] = Plain(c.Head)
	}
	return cells
}

// rowStyle is how a row is set.
type rowStyle struct {
	letters
	padding float64     // above and below, mm
	rule    drawing.Ink // below
	low     bool        // cells end together, and do not begin together
}

var (
	headRow = rowStyle{quietLetters, 0.6, drawing.Strong, true}
	bodyRow = rowStyle{tableLetters, 0.7, drawing.Grid, false}
)

// of are the letters of a cell in a column. Those of a head are all alike.
func (r rowStyle) of(c Column) letters {
	if c.Large && !r.low {
		return largeLetters
	}
	return r.letters
}

// row lays a row out, as one strip unless it is very high.
func (p *pdfWriter) row(b Table, cells []Text, widths []float64, style rowStyle) []strip {
	const highest = 40 // lines, less than a page holds
	laid, high := make([][]textLine, len(cells)), 1
	for i, cell := range cells {
		laid[i] = p.lines(cell, style.of(b.Columns[i]), widths[i])
		high = max(high, len(laid[i]))
	}
	var strips []strip
	for from := 0; from < high; from += highest {
		part := make([][]textLine, len(laid))
		for i, lines := range laid {
			part[i] = lines[min(from, len(lines)):min(from+highest, len(lines))]
		}
		strips = append(strips, p.cells(b, part, widths, min(highest, high-from), style))
	}
	return strips
}

// cells is a strip with so many lines of every cell of a row.
func (p *pdfWriter) cells(b Table, laid [][]textLine, widths []float64, high int, style rowStyle) strip {
	height := float64(high)*style.lead + 2*style.padding
	return strip{height: height, draw: func(x, y float64) {
		for i, lines := range laid {
			top := y + style.padding
			if style.low {
				top += float64(high-len(lines)) * style.lead
			}
			for n, line := range lines {
				at := x
				if b.Columns[i].Right {
					at += widths[i] - line.width
				}
				p.line(line, style.of(b.Columns[i]), at, top+float64(n)*style.lead+style.baseline())
			}
			x += widths[i]
			p.rule(x-widths[i], y+height, widths[i]+between*float64(min(1, len(laid)-1-i)), style.rule, 0.15)
			x += between
		}
	}}
}

// widths are those of the columns: as wide as their cells, or where that is too
// much with lines broken, the widest columns most and numbers last.
func (p *pdfWriter) widths(b Table, width float64) []float64 {
	room := width - between*float64(len(b.Columns)-1)
	wide, least := make([]float64, len(b.Columns)), make([]float64, len(b.Columns))
	measure := func(cells []Text, style rowStyle) {
		for i, cell := range cells {
			for _, line := range p.lines(cell, style.of(b.Columns[i]), math.Inf(1)) {
				wide[i] = math.Max(wide[i], line.width)
				for _, w := range line.words {
					least[i] = math.Max(least[i], w.width)
				}
			}
		}
	}
	measure(b.headCells(), headRow)
	for _, cells := range b.Rows {
		measure(cells, bodyRow)
	}
	for i, c := range b.Columns {
		if c.Right {
			least[i] = wide[i]
		}
		if c.Blank {
			wide[i], least[i] = math.Max(wide[i], writing), math.Max(least[i], writing/2)
		}
	}
	return shared(wide, least, room)
}

// shared gives columns their widths: the wanted ones, or of what is beyond the
// least ones an equal share; where even those are too much, a share of them.
func shared(wide, least []float64, room float64) []float64 {
	total := func(list []float64) (sum float64) {
		for _, v := range list {
			sum += v
		}
		return sum
	}
	w, l := total(wide), total(least)
	widths := slices.Clone(wide)
	for i := range widths {
		switch {
		case w <= room:
		case l >= room:
			widths[i] = least[i] * room / l
		default:
			widths[i] = least[i] + (wide[i]-least[i])*(room-l)/(w-l)
		}
	}
	return widths
}
