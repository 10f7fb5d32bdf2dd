package pages

import (
	"math"
	"strings"

	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate/figures"
)

// Part is what one edit did to a figure, or several that are called the same, in the
// figure's unit.
type Part struct {
	Name string
	Size float64
}

// Waterfall draws which edit did what to a figure: a bar for each of the parts that its
// change is made of, from what the rod called before to the one called after. The figure
// must be on both sides of the shift.
func (p Pen) Waterfall(before, after string, s diffing.Shift, parts []Part) *drawing.Picture {
	v := waterfall{pen: p, shift: s, display: p.display.Single(s.Key).Alike(s.Old.Value, s.New.Value)}
	v.parts = v.gather(parts)
	v.measure()
	said := say.Each(v.parts, func(part Part) string {
		return p.say("waterfall.share", "group", part.Name, "part", v.change(part.Size))
	})
	name := p.words.Name(s.Key)
	pic := p.picture(p.say("waterfall.title", "name", name), p.say("waterfall.description",
		"before", before, "after", after, "old", v.value(s.Old.Value), "new", v.value(s.New.Value), "shares", strings.Join(said, " ")))
	pic.Add(p.bold(margin, 1.4*p.letters, drawing.Start, name), v.end(0, before, s.Old.Value))
	at := s.Old.Value
	for i, part := range v.parts {
		pic.Add(v.bar(i+1, part, at))
		at += part.Size
	}
	pic.Add(v.end(len(v.parts)+1, after, s.New.Value))
	pic.Notes = p.say("waterfall.legend")
	return p.close(pic)
}

// waterfall is the picture of Waterfall in the making.
type waterfall struct {
	pen     Pen
	shift   diffing.Shift
	display figures.Display // of both values, in one unit
	parts   []Part          // a bar each

	left, right float64 // where the values lie, mm
	least, most float64 // the values there
}

// gather are the bars, in the order of the parts. Those that do not show by
// themselves are put together.
func (v *waterfall) gather(parts []Part) []Part {
	var bars []Part
	rest := 0.0
	for _, part := range parts {
		if v.shows(part.Size) {
			bars = append(bars, part)
		} else {
			rest += part.Size
		}
	}
	if v.shows(rest) {
		bars = append(bars, Part{v.pen.say("waterfall.rest"), rest})
	}
	return bars
}

// measure finds out how much room names and values leave for the bars.
func (v *waterfall) measure() {
	p := v.pen
	names, texts := 0.0, max(p.wide(v.value(v.shift.Old.Value)), p.wide(v.value(v.shift.New.Value)))
	at := v.shift.Old.Value
	v.least, v.most = at, at
	for _, part := range v.parts {
		names, texts = max(names, p.wide(part.Name)), max(texts, p.wide(v.change(part.Size)))
		at += part.Size
		v.least, v.most = min(v.least, at), max(v.most, at)
	}
	if v.most == v.least {
		v.most++ // a figure that did not change has a place all the same
	}
	v.left = margin + min(names, 0.45*p.width) + p.letters
	v.right = p.width - margin - texts - p.letters
}

func (v *waterfall) x(value float64) float64 {
	return v.left + (v.right-v.left)*(value-v.least)/(v.most-v.least)
}

// y is the baseline of the letters in a row.
func (v *waterfall) y(row int) float64 { return (3.2 + 1.9*float64(row)) * v.pen.letters }

func (v *waterfall) value(value float64) string {
	return v.display.Value(v.shift.Key, v.shift.Unit, value)
}

func (v *waterfall) change(by float64) string {
	return v.display.Change(v.shift.Key, v.shift.Unit, by, v.shift.New.Value)
}

// shows reports whether a part is something, to the digits that it is shown
// with.
func (v *waterfall) shows(part float64) bool {
	return v.display.Shows(v.shift.Key, v.shift.Unit, part, v.shift.New.Value)
}

// row is a name and a text on either side of the bars.
func (v *waterfall) row(row int, name, text string) *drawing.Group {
	p := v.pen
	return &drawing.Group{Title: name, Marks: []drawing.Mark{
		p.label(margin, v.y(row), drawing.Start, p.shortened(name, v.left-margin)),
		p.label(p.width-margin, v.y(row), drawing.End, text),
	}}
}

// end is the figure of one of the two rods.
func (v *waterfall) end(row int, name string, value float64) *drawing.Group {
	g := v.row(row, name, v.value(value))
	x, middle := v.x(value), v.y(row)-0.36*v.pen.letters
	half := 0.8 * v.pen.letters
	g.Add(line(x, middle-half, x, middle+half, drawing.Strong, thickLine))
	return g
}

// bar is one edit: filled to the right where the figure grows, and to the left
// where it shrinks, with an arrow's head that says so without the colour.
func (v *waterfall) bar(row int, part Part, from float64) *drawing.Group {
	g := v.row(row, part.Name, v.change(part.Size))
	a, b, middle := v.x(from), v.x(from+part.Size), v.y(row)-0.36*v.pen.letters
	half := 0.55 * v.pen.letters
	head := math.Copysign(min(math.Abs(b-a), half), b-a)
	ink := drawing.Orange
	if part.Size < 0 {
		ink = drawing.SkyBlue
	}
	g.Add(
		line(a, middle-1.9*v.pen.letters+half, a, middle+half, drawing.Hair, thinLine),
		&drawing.Path{Closed: true, Style: edge(ink), Points: []drawing.Point{
			{X: a, Y: middle - half}, {X: b - head, Y: middle - half}, {X: b, Y: middle}, {X: b - head, Y: middle + half}, {X: a, Y: middle + half},
		}},
	)
	return g
}
