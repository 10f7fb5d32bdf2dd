package pages

import (
	"math"
	"slices"
	"strconv"

	"rodlore/catalogue/pages/drawing"
)

// scale is how many times smaller than itself a thing is drawn.
type scale float64

// scales are those to choose from: the reductions of ISO 5455:1979 (1 : 2, 5, 10,
// 20, 50, 100) and round ones between them, for paper is narrow and rods differ
// little.
var scales = []scale{1, 2, 2.5, 3, 4, 5, 7.5, 10, 12.5, 15, 20, 25, 30, 35, 40, 50, 60, 75, 100}

// standard are those of ISO 5455:1979 itself.
var standard = []scale{1, 2, 5, 10, 20, 50, 100}

// fitting is the largest scale of the pen at which so many metres are at most so
// many millimetres on paper.
func (p Pen) fitting(metres, mm float64) scale {
	of := scales
	if p.standard {
		of = standard
	}
	i := slices.IndexFunc(of, func(k scale) bool { return k.mm(metres) <= mm })
	if i < 0 {
		i = len(of) - 1
	}
	return of[i]
}

// mm is how long metres are on paper.
func (k scale) mm(metres float64) float64 { return 1e3 * metres / float64(k) }

func (k scale) text(p Pen) string {
	return "1 : " + p.display.Decimals(strconv.FormatFloat(float64(k), 'f', -1, 64))
}

// round is a length that is round in the pen's units and about so many metres
// long: forty inches for one.
func (p Pen) round(metres float64) float64 {
	if p.display.Units == "imperial" {
		return metres * 40 * 25.4e-3
	}
	return metres
}

// bars are how long a scale bar may stand for, m.
var bars = []float64{1, 0.5, 0.2, 0.1, 0.05}

// scaleLine is what is said of a scale, with a bar for where the picture is shown in
// another size.
func (p Pen) scaleLine(k scale, y float64, text string) []drawing.Mark {
	return []drawing.Mark{p.label(margin, y, drawing.Start, text), p.bar(k, p.width-margin, y-0.36*p.letters)}
}

// bar is a scale bar that ends at x on the right.
func (p Pen) bar(k scale, x, y float64) *drawing.Group {
	i := slices.IndexFunc(bars, func(m float64) bool { return k.mm(p.round(m)) <= 0.25*p.width })
	stands := p.round(bars[max(i, 0)])
	from := x - k.mm(stands)
	const tick = 0.8
	return &drawing.Group{Marks: []drawing.Mark{
		line(from, y, x, y, drawing.Strong, usualLine),
		line(from, y-tick, from, y+tick, drawing.Strong, usualLine),
		line(x, y-tick, x, y+tick, drawing.Strong, usualLine),
		p.label(from-1, y+0.36*p.letters, drawing.End, p.length(stands)),
	}}
}

// ratio says how many times larger one scale draws than another.
func (p Pen) ratio(than, k scale) string {
	return p.display.Decimals(strconv.FormatFloat(math.Round(10*float64(than/k))/10, 'f', -1, 64))
}
