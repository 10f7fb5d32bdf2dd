package pages

import (
	"rodlore/catalogue/pages/drawing"
	"rodlore/evaluate"
	"rodlore/models"
)

// side draws a rod as it is seen from the side, butt on the left, its rings
// below the blank or, for a reel on top, above.
type side struct {
	pen           Pen
	spec          *models.Spec
	outline       *evaluate.Outline
	along, across scale
	butt, axis    float64 // where the butt end and the middle of the blank lie, mm
	shown         float64 // how much of the rod is drawn, m from the butt
	oneOfSeveral  bool    // drawn with others, so small
}

// newSide lays a rod out at those scales.
func (p Pen) newSide(s *models.Spec, along, across scale) (*side, error) {
	o, err := p.rods.Of(s).Outline()
	if err != nil {
		return nil, err
	}
	return &side{pen: p, spec: s, outline: o, along: along, across: across, shown: s.TotalLength()}, nil
}

// x is where s metres from the tip are, and fromButt s metres from the butt.
func (v *side) x(s float64) float64        { return v.fromButt(v.spec.TotalLength() - s) }
func (v *side) fromButt(z float64) float64 { return v.butt + v.along.mm(z) }

// y is where h metres from the middle of the blank are, on the side of the
// rings.
func (v *side) y(h float64) float64 {
	if v.spec.Reel.Kind.OnTop() {
		h = -h
	}
	return v.axis + v.across.mm(h)
}

// radius is that of the blank at s metres from the tip.
func (v *side) radius(s float64) float64 { return v.outline.Outside(s) / 2 }

// cut is where the drawing ends, m from the tip: 0 where the whole rod is shown.
func (v *side) cut() float64 { return v.spec.TotalLength() - v.shown }

// marks are the whole rod.
func (v *side) marks() []drawing.Mark {
	marks := []drawing.Mark{v.blank()}
	marks = append(marks, v.whippings()...)
	marks = append(marks, v.rings()...)
	return append(marks, v.handle()...)
}

// rings are the rings, each with its name; where the rod is one of several, all
// of them together, which is half as long to write.
func (v *side) rings() []drawing.Mark {
	var named, legs, eyes []drawing.Mark
	for i, ring := range v.spec.Rings {
		if float64(ring.At.Value) < v.cut() {
			continue
		}
		feet, eye := v.ring(i)
		place := v.pen.length(float64(ring.At.Value))
		named = append(named, &drawing.Group{
			Title: v.pen.say("ring", "part", ring.Part.Text, "place", place), Marks: append(feet[:len(feet):len(feet)], eye),
		})
		legs, eyes = append(legs, feet...), append(eyes, eye)
	}
	if v.oneOfSeveral {
		return append(legs, eyes...)
	}
	return named
}

// edge is how the outlines of everything are drawn.
func edge(fill drawing.Ink) drawing.Style {
	return drawing.Style{Fill: fill, Stroke: drawing.Strong, Width: thinLine}
}

// blank is the blank in its colour.
func (v *side) blank() *drawing.Path {
	var near, far []drawing.Point
	for _, p := range v.outline.Blank {
		if p.To <= v.cut() {
			continue
		}
		for _, s := range []float64{max(p.From, v.cut()), p.To} {
			near = append(near, drawing.Point{X: v.x(s), Y: v.y(p.Outside(s) / 2)})
			far = append(far, drawing.Point{X: v.x(s), Y: v.y(-p.Outside(s) / 2)})
		}
	}
	const unseen = 0.01 // mm
	near, far = drawing.Simplified(near, unseen), drawing.Simplified(far, unseen)
	for i := range far {
		near = append(near, far[len(far)-1-i])
	}
	return &drawing.Path{Points: near, Closed: true, Style: edge(v.colour(v.spec.Finish.Colour))}
}

// colour is the ink for a colour of the finish; a word that is not known is a
// neutral grey.
func (v *side) colour(w models.Word) drawing.Ink {
	if ink, ok := hueOf(w.Text); ok {
		return ink
	}
	return drawing.Band
}

// whippings are the threads over the feet. They stand a layer of thread and
// varnish off the blank.
func (v *side) whippings() []drawing.Mark {
	var marks []drawing.Mark
	layer := 0.0
	for _, name := range []models.Word{v.spec.Finish.Thread, v.spec.Finish.Varnish} {
		if part := v.spec.Parts[name.Text]; part != nil {
			layer += float64(part.Thickness.Value)
		}
	}
	for _, w := range v.outline.Whippings {
		if w.From < v.cut() {
			continue
		}
		r := v.radius((w.From+w.To)/2) + layer
		box := drawing.Around(drawing.Point{X: v.x(w.To), Y: v.y(r)}, drawing.Point{X: v.x(w.From), Y: v.y(-r)})
		marks = append(marks, drawing.Rectangle(box, edge(v.colour(v.spec.Finish.Trim))))
	}
	return marks
}

// ring is a ring seen edge-on: the inside of it as a line of its true size at
// its true height, on legs that stand on its feet.
func (v *side) ring(i int) (legs []drawing.Mark, eye drawing.Mark) {
	ring := v.spec.Rings[i]
	part, s := v.spec.Parts[ring.Part.Text], float64(ring.At.Value)
	surface := v.radius(s)
	middle, half := surface+float64(part.Height.Value), float64(part.Size.Value)/2
	for _, foot := range v.feet(i, part) {
		legs = append(legs, line(v.x(foot), v.y(surface), v.x(s), v.y(max(middle-half, surface)), drawing.Strong, thinLine))
	}
	return legs, line(v.x(s), v.y(middle-half), v.x(s), v.y(middle+half), drawing.Strong, thickLine)
}

// feet are where a ring stands on the blank: in the middle of its whippings, or
// under itself where it has none.
func (v *side) feet(i int, part *models.Part) []float64 {
	var feet []float64
	for _, w := range v.outline.Whippings {
		if w.Ring == i && part.Feet > 0 {
			feet = append(feet, (w.From+w.To)/2)
		}
	}
	if len(feet) == 0 {
		return []float64{float64(v.spec.Rings[i].At.Value)}
	}
	return feet
}

// ringEnd is how far a ring reaches from the middle of the blank, m.
func (v *side) ringEnd(i int) float64 {
	part := v.spec.Parts[v.spec.Rings[i].Part.Text]
	return v.radius(float64(v.spec.Rings[i].At.Value)) + float64(part.Height.Value) + float64(part.Size.Value)/2
}

// handle is grips, seat and butt cap.
func (v *side) handle() []drawing.Mark {
	h := v.spec.Handle
	var marks []drawing.Mark
	for _, g := range h.Grips {
		back, ink := g.Diameter.Value, stuffInk(g.Material.Text)
		if part := v.spec.Parts[g.Part.Text]; part != nil {
			back, ink = part.Diameter.Value, stuffInk(g.Part.Text)
		}
		marks = append(marks, v.turned(float64(g.From.Value), float64(g.To.Value), float64(back), float64(g.Ends.Or(back)), ink))
	}
	if part := v.spec.Parts[h.Seat.Part.Text]; part != nil {
		at, half := float64(h.Seat.At.Value), float64(part.Length.Value)/2
		marks = append(marks, v.turned(at-half, at+half, float64(part.Diameter.Value), float64(part.Diameter.Value), seatInk))
	}
	if part := v.spec.Parts[h.Cap.Part.Text]; part != nil {
		marks = append(marks, v.turned(0, float64(part.Length.Value), float64(part.Diameter.Value), float64(part.Diameter.Value), capInk))
	}
	return marks
}

// turned is a round part between two distances from the butt, with its
// diameters there. One without a diameter is shown as thick as the blank.
func (v *side) turned(from, to, back, front float64, ink drawing.Ink) *drawing.Path {
	least := 2 * v.radius(v.spec.TotalLength()-from)
	back, front = max(back, least), max(front, least)
	return &drawing.Path{Closed: true, Style: edge(ink), Points: []drawing.Point{
		{X: v.fromButt(from), Y: v.y(-back / 2)}, {X: v.fromButt(to), Y: v.y(-front / 2)},
		{X: v.fromButt(to), Y: v.y(front / 2)}, {X: v.fromButt(from), Y: v.y(back / 2)},
	}}
}

// reach is how far the rod stands out from its axis, up and down, mm.
func (v *side) reach() (up, down float64) {
	box := (&drawing.Group{Marks: v.marks()}).Bounds()
	return v.axis - box.Min.Y, box.Max.Y - v.axis
}
