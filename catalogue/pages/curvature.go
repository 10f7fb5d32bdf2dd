package pages

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/models"
)

// Curvature draws how a rod curves along its length under half the test curve,
// with what its rings, whippings and joints take out of the bend. The error says
// why there is no such bend.
func (p Pen) Curvature(s *models.Spec) (*drawing.Picture, error) {
	c, err := p.rods.Of(s).Curvature()
	if err != nil {
		return nil, err
	}
	v := p.newCurving(s, c)
	pic := p.picture(p.say("curvature.title", "name", s.Name.Text), p.say("curvature.description",
		"load", v.load(), "turn", v.turn(v.all()), "spots", p.words.List(v.told(len(v.worst)))))
	pic.Add(v.grid()...)
	pic.Add(&drawing.Path{Points: v.curve(built), Style: drawing.Style{Stroke: drawing.Series(0), Width: usualLine}})
	pic.Add(v.takenOut())
	pic.Add(v.numbers()...)
	pic.Add(v.places()...)
	y := v.base + p.wide("0000") + 3.2*p.letters
	pic.Key = v.key()
	pic.Add(p.scaleLine(v.along, y, p.say("curvature.scale", "scale", v.along.text(p)))...)
	pic.Notes = p.say("curvature.legend", "load", v.load(), "turn", v.turn(v.all()), "unit", p.unit())
	return p.close(pic), nil
}

// mostSpots are so many flat spots as a picture tells apart.
const mostSpots = 5

// curving is the picture of Curvature in the making.
type curving struct {
	pen   Pen
	spec  *models.Spec
	found *evaluate.Curvature
	worst []evaluate.FlatSpot // the one that takes the most out of the bend first
	along scale
	tip   float64 // x of the tip, mm
	base  float64 // y of no curvature
	high  float64 // mm for the largest curvature
	most  float64 // largest curvature, 1/m
}

func (p Pen) newCurving(s *models.Spec, c *evaluate.Curvature) *curving {
	v := &curving{pen: p, spec: s, found: c, along: p.fitting(s.TotalLength(), p.width-2*margin-p.letters), high: 0.36 * p.width}
	v.worst = slices.Clone(c.Spots)
	slices.SortStableFunc(v.worst, func(a, b evaluate.FlatSpot) int { return cmp.Compare(b.Turn, a.Turn) })
	v.tip = p.width - margin - p.letters
	v.base = 2.6*p.letters + v.high
	for _, pt := range c.Points {
		v.most = max(v.most, pt.Bare)
	}
	return v
}

// load says what bends the rod: a pole has no rings to run a line through.
func (v *curving) load() string {
	path := "curvature.pulled"
	if len(v.spec.Rings) < 2 {
		path = "curvature.hung"
	}
	return v.pen.say(path, "load", v.pen.display.Value("", "N", v.found.Load))
}

func (v *curving) x(s float64) float64 { return v.tip - v.along.mm(s) }
func (v *curving) y(k float64) float64 { return v.base - v.high*k/v.most }

// all is the bend that all spots take out, rad.
func (v *curving) all() float64 {
	var sum float64
	for _, s := range v.worst {
		sum += s.Turn
	}
	return sum
}

func (v *curving) turn(rad float64) string { return v.pen.display.Value("flat-turn", "rad", rad) }

// told says what the worst spots are and what each takes out of the bend.
func (v *curving) told(most int) []string {
	return say.Each(v.worst[:min(most, len(v.worst))], func(s evaluate.FlatSpot) string {
		return v.pen.say("curvature.spot", "what", v.cause(s), "turn", v.turn(s.Turn))
	})
}

// cause says what makes a flat spot.
func (v *curving) cause(s evaluate.FlatSpot) string {
	p := v.pen
	if s.Joint >= 0 {
		return p.say("joints."+string(v.spec.Joints[s.Joint].Kind), "from", p.length(s.From), "to", p.length(s.To))
	}
	ring := v.spec.Rings[s.Ring]
	path := "curvature.foot and whipping"
	switch {
	case !s.Foot:
		path = "curvature.whipping"
	case !s.Wrap:
		path = "curvature.foot"
	}
	return p.say(path, "ring", p.say("ring", "part", ring.Part.Text, "place", p.length(float64(ring.At.Value))))
}

// radii are those of bends that the grid shows, about, m.
var radii = []float64{10, 5, 2, 1, 0.5, 0.2, 0.1}

// grid is the rod as the line of no curvature, and lines of some radii.
func (v *curving) grid() []drawing.Mark {
	p := v.pen
	butt := v.x(v.spec.TotalLength())
	marks := []drawing.Mark{p.faint(butt, 1.2*p.letters, drawing.Start, p.say("curvature.axis"))}
	last := v.base
	for _, radius := range radii {
		r := p.round(radius)
		y := v.y(1 / r)
		if y > last-1.3*p.letters || y < v.base-v.high {
			continue
		}
		last = y
		marks = append(marks, line(butt, y, v.tip, y, drawing.Grid, thinLine), p.faint(butt, y-0.6, drawing.Start, p.length(r)))
	}
	const half = 0.9 // mm
	front := v.x(v.spec.TotalLength() - v.spec.HeldTo())
	handle := drawing.Box{Min: drawing.Point{X: butt, Y: v.base - half}, Max: drawing.Point{X: front, Y: v.base + half}}
	return append(marks,
		line(butt, v.base, v.tip, v.base, drawing.Hair, thinLine),
		drawing.Rectangle(handle, drawing.Style{Fill: drawing.Band, Stroke: drawing.Hair, Width: thinLine}))
}

// curve is one of the two curvatures along the rod.
func (v *curving) curve(of func(evaluate.CurvaturePoint) float64) []drawing.Point {
	path := say.Each(v.found.Points, func(pt evaluate.CurvaturePoint) drawing.Point { return drawing.Point{X: v.x(pt.S), Y: v.y(of(pt))} })
	const unseen = 0.02 // mm
	return drawing.Simplified(path, unseen)
}

func built(pt evaluate.CurvaturePoint) float64 { return pt.Built }
func bare(pt evaluate.CurvaturePoint) float64  { return pt.Bare }

// takenOut is what lies between the two curvatures. Most of it is narrow, so it
// is painted over the curve.
func (v *curving) takenOut() *drawing.Path {
	above, below := v.curve(bare), v.curve(built)
	slices.Reverse(below)
	return &drawing.Path{Points: append(above, below...), Closed: true, Style: drawing.Style{Fill: drawing.Series(1)}}
}

// numbers stand over the worst spots.
func (v *curving) numbers() []drawing.Mark {
	worst := v.worst[:min(mostSpots, len(v.worst))]
	order := make([]int, len(worst)) // from left to right
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(worst[b].At, worst[a].At) })
	xs := say.Each(order, func(n int) float64 { return v.x((worst[n].From + worst[n].To) / 2) })
	var marks []drawing.Mark
	for i, x := range spread(xs, 0.9*v.pen.letters, 0, v.pen.width) {
		spot := worst[order[i]]
		marks = append(marks, v.pen.bold(x, v.y(v.highest(spot.Span))-0.4*v.pen.letters, drawing.Middle, strconv.Itoa(order[i]+1)))
	}
	return marks
}

// highest is the largest curvature near a place.
func (v *curving) highest(at models.Span) float64 {
	const near = 20e-3 // m
	most := 0.0
	for _, pt := range v.found.Points {
		if pt.S >= at.From-near && pt.S <= at.To+near {
			most = max(most, pt.Bare)
		}
	}
	return most
}

// places are the rings' distances from the tip, below their places.
func (v *curving) places() []drawing.Mark {
	rings := slices.Clone(v.spec.Rings)
	slices.Reverse(rings) // from left to right
	xs := say.Each(rings, func(ring models.Ring) float64 { return v.x(float64(ring.At.Value)) })
	labels, _ := v.pen.apart(xs, 1.15)
	var marks []drawing.Mark
	for i, x := range labels {
		top := v.base + v.pen.letters
		marks = append(marks, line(xs[i], v.base-0.8, x, top-0.4, drawing.Hair, thinLine),
			v.pen.hanging(x, top, v.pen.number(float64(rings[i].At.Value))))
	}
	return marks
}

// key says what line and area are, and what stands where the numbers do.
func (v *curving) key() []drawing.Entry {
	area := drawing.Box{Min: drawing.Point{X: 1, Y: 0.5}, Max: drawing.Point{X: 7, Y: 2.5}}
	list := []drawing.Entry{
		{Sample: []drawing.Mark{line(1, 1.5, 7, 1.5, drawing.Series(0), usualLine)}, Text: v.pen.say("curvature.built")},
		{Sample: []drawing.Mark{drawing.Rectangle(area, drawing.Style{Fill: drawing.Series(1)})}, Text: v.pen.say("curvature.taken")},
	}
	for i, text := range v.told(mostSpots) {
		list = append(list, drawing.Entry{Text: fmt.Sprintf("%d. %s", i+1, text)})
	}
	return list
}
