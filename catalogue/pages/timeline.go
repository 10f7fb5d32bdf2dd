package pages

import (
	"math"
	"strings"

	"rodlore/catalogue/pages/drawing"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
)

// Dated are the figures of a release, and their shifts since the one before;
// none for the first.
type Dated struct {
	Label   string
	Figures *evaluate.Figures
	Shifts  []diffing.Shift
}

// Timeline draws what became of figures from release to release, oldest first,
// each in a panel of its own with the band that rods built to the spec scatter
// in. Releases without a figure have a gap there; a figure that none has is left
// out.
func (p Pen) Timeline(keys []string, releases []Dated) *drawing.Picture {
	v := timeline{pen: p, releases: releases}
	var said []string
	for _, key := range keys {
		if f := v.figure(key); f.unit != "" {
			v.panels = append(v.panels, f)
			said = append(said, v.tell(f))
		}
	}
	pic := p.picture(p.say("timeline.title"), strings.Join(said, " "))
	y := 0.0
	for _, f := range v.panels {
		marks, bottom := v.panel(f, y)
		pic.Add(marks...)
		y = bottom
	}
	y += 1.3 * p.letters
	for _, i := range v.sparse(func(i int) string { return releases[i].Label }) {
		pic.Add(p.faint(v.x(i), y, drawing.Middle, releases[i].Label))
	}
	pic.Key, pic.Notes = v.key(), p.say("timeline.legend")
	return p.close(pic)
}

// timeline is the picture of Timeline in the making.
type timeline struct {
	pen      Pen
	releases []Dated
	panels   []dated
}

// dated is one figure over the releases; what a release lacks is not a number.
type dated struct {
	key, unit     string
	value, spread []float64 // and two standard deviations of it
	change        []diffing.Shift
	display       figures.Display // of all values, in one unit
}

// figure gathers a figure; one that no release has, has no unit.
func (v *timeline) figure(key string) dated {
	f := dated{key: key, display: v.pen.display.Single(key)}
	for _, r := range v.releases {
		value, spread := math.NaN(), 0.0
		if fig, ok := r.Figures.Get(key); ok {
			f.unit, value, f.display = fig.Unit, fig.Value, f.display.Alike(fig.Value)
			if fig.Tolerance > 0 {
				spread = 2 * fig.Tolerance
			}
		}
		f.value, f.spread = append(f.value, value), append(f.spread, spread)
		change, _ := diffing.Find(r.Shifts, key)
		f.change = append(f.change, change)
	}
	return f
}

// answer says what became of the figure on release i: nothing on the first release, and
// on one whose figure has nothing to be compared with. Beside two numbers that read the
// same it does not say that they changed, but whether anybody would notice.
func (f dated) answer(i int) diffing.Answer {
	s := f.change[i]
	answer := s.Answer()
	switch {
	case answer != diffing.Changed || !f.display.Same(s.Key, s.Unit, s.Old.Value, s.New.Value):
		return answer
	case s.Within():
		return diffing.Same
	}
	return diffing.Open
}

// became are the texts of the answers in what is told to those who do not see the
// picture.
var became = map[diffing.Answer]string{
	"": "timeline.value", diffing.Changed: "timeline.changed", diffing.Same: "timeline.stayed", diffing.Open: "timeline.untold",
}

// tell says what became of a figure.
func (v *timeline) tell(f dated) string {
	var list []string
	for i := range v.releases {
		if math.IsNaN(f.value[i]) {
			continue
		}
		list = append(list, v.pen.say(became[f.answer(i)], "label", v.releases[i].Label, "value", f.display.Value(f.key, f.unit, f.value[i])))
	}
	return v.pen.say("timeline.figure", "name", v.pen.words.Name(f.key), "values", v.pen.words.List(list))
}

// x is where release i stands.
func (v *timeline) x(i int) float64 {
	edge := margin + 2.5*v.pen.letters
	if len(v.releases) == 1 {
		return v.pen.width / 2
	}
	return edge + float64(i)*(v.pen.width-2*edge)/float64(len(v.releases)-1)
}

// sparse are the releases whose texts have room beside each other: the last and
// as many before it as fit at equal distances.
func (v *timeline) sparse(text func(int) string) []int {
	widest, last := 0.0, len(v.releases)-1
	for i := range v.releases {
		widest = max(widest, v.pen.wide(text(i)))
	}
	every := 1
	if last > 0 {
		every = max(1, int(math.Ceil((widest+0.5*v.pen.letters)/(v.x(1)-v.x(0)))))
	}
	var list []int
	for i := last; i >= 0; i -= every {
		list = append(list, i)
	}
	return list
}

// panel draws one figure below y and says where it ends.
func (v *timeline) panel(f dated, y float64) (marks []drawing.Mark, bottom float64) {
	p := v.pen
	high := 4 * p.letters
	y += 1.6 * p.letters
	column, name := f.display.Column(f.key, f.unit, 0), p.words.Name(f.key)
	if unit := column.Unit(); unit != "" {
		name = p.say("timeline.name", "name", name, "unit", unit)
	}
	marks = append(marks, p.bold(margin, y, drawing.Start, name))
	y += 1.4 * p.letters
	number := func(i int) string {
		if math.IsNaN(f.value[i]) {
			return ""
		}
		return column.Number(f.value[i])
	}
	for _, i := range v.sparse(number) {
		if text := number(i); text != "" {
			label := p.label(v.x(i), y, drawing.Middle, text)
			label.Bold = f.answer(i) == diffing.Changed
			marks = append(marks, label)
		}
	}
	at := f.across(y+0.6*p.letters, high)
	marks = append(marks, v.band(f, at)...)
	marks = append(marks, v.dots(f, at)...)
	return marks, y + 0.6*p.letters + high
}

// across gives the place on paper of a value, in a panel of that height below
// top.
func (f dated) across(top, high float64) func(value float64) float64 {
	least, most := math.Inf(1), math.Inf(-1)
	for i, value := range f.value {
		if !math.IsNaN(value) {
			least, most = min(least, value-f.spread[i]), max(most, value+f.spread[i])
		}
	}
	room := most - least
	if room == 0 {
		room, least = 2, least-1
	}
	return func(value float64) float64 { return top + high*(0.9-0.8*(value-least)/room) }
}

// band is what rods scatter in, and the line through the figures, with gaps
// where a release has none.
func (v *timeline) band(f dated, at func(float64) float64) []drawing.Mark {
	var marks []drawing.Mark
	for from := 0; from < len(f.value); from++ {
		to := from
		for to < len(f.value) && !math.IsNaN(f.value[to]) {
			to++
		}
		if to > from {
			marks = append(marks, v.stretch(f, at, from, to)...)
			from = to
		}
	}
	return marks
}

// stretch is band for the releases from one to before another, all of which have
// the figure. One alone has a short band of its own.
func (v *timeline) stretch(f dated, at func(float64) float64, from, to int) []drawing.Mark {
	var upper, lower, middle []drawing.Point
	add := func(x float64, i int) {
		upper = append(upper, drawing.Point{X: x, Y: at(f.value[i] + f.spread[i])})
		lower = append([]drawing.Point{{X: x, Y: at(f.value[i] - f.spread[i])}}, lower...)
		middle = append(middle, drawing.Point{X: x, Y: at(f.value[i])})
	}
	const half = 2 // mm
	add(v.x(from)-half, from)
	for i := from; i < to; i++ {
		add(v.x(i), i)
	}
	add(v.x(to-1)+half, to-1)
	return []drawing.Mark{
		&drawing.Path{Points: append(upper, lower...), Closed: true, Style: drawing.Style{Fill: drawing.Band}},
		&drawing.Path{Points: middle[1 : len(middle)-1], Style: drawing.Style{Stroke: drawing.Hair, Width: thinLine}},
	}
}

// dots are the figures themselves.
func (v *timeline) dots(f dated, at func(float64) float64) []drawing.Mark {
	g := &drawing.Group{Title: v.pen.words.Name(f.key)}
	for i, value := range f.value {
		if !math.IsNaN(value) {
			g.Add(dot(v.x(i), at(value), f.answer(i)))
		}
	}
	return []drawing.Mark{g}
}

// dot is full for a change, empty where the figure is the same, small where the
// numbers cannot tell, and a speck where there is nothing to tell.
func dot(x, y float64, is diffing.Answer) *drawing.Circle {
	c := &drawing.Circle{
		Centre: drawing.Point{X: x, Y: y}, Radius: 1,
		Style: drawing.Style{Fill: drawing.Series(0), Stroke: drawing.Series(0), Width: usualLine},
	}
	switch is {
	case diffing.Same:
		c.Fill = drawing.Paper
	case diffing.Open:
		c.Radius = 0.7
	case "":
		c.Radius = 0.4
	}
	return c
}

// key says what the dots are.
func (v *timeline) key() []drawing.Entry {
	return []drawing.Entry{
		{Sample: []drawing.Mark{dot(4, 1.5, diffing.Changed)}, Text: v.pen.say("timeline.real")},
		{Sample: []drawing.Mark{dot(4, 1.5, diffing.Same)}, Text: v.pen.say("timeline.same")},
		{Sample: []drawing.Mark{dot(4, 1.5, diffing.Open)}, Text: v.pen.say("timeline.open")},
	}
}
