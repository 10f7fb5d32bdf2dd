package pages

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"rodlore/catalogue/pages/drawing"
	"rodlore/models"
)

// Rod draws a rod to scale, with the place and size of every ring, its joints,
// handle and colours. The error means that the spec gives no rod.
func (p Pen) Rod(s *models.Spec) (*drawing.Picture, error) {
	along := p.fitting(s.TotalLength(), p.width-2*margin)
	v, err := p.newSide(s, along, 1)
	if err != nil {
		return nil, err
	}
	up, down := v.reach()
	v.across = max(usualAcross, p.fitting((up+down)*1e-3, tallest*p.width))
	v.butt = (p.width - along.mm(s.TotalLength())) / 2

	pic := p.picture(p.say("rod.title", "name", s.Name.Text), p.describe(s))
	dims, top := v.dimensions()
	up, down = v.reach()
	v.axis = top + up
	pic.Add(dims...)
	pic.Add(v.extensions(top)...)
	pic.Add(v.marks()...)
	top = v.axis + down + 2
	labels, bottom := v.places(top)
	pic.Add(labels...)
	pic.Add(v.scaleLine(bottom + 1.8*p.letters)...)
	pic.Notes = strings.Join(p.colours(s), " ")
	return p.close(pic), nil
}

const (
	// usualAcross is the largest scale across: at more, a rod does not look like
	// one.
	usualAcross scale = 2
	// tallest is how high a rod may be as a share of the picture's width.
	tallest = 0.3
)

// dimension is a length between two places, as x from left to right.
type dimension struct {
	from, to float64
	texts    []string // from the fullest to the shortest
}

// dimensions are the lengths of the sections and of the whole, in rows above the
// rod; bottom is where they end. Sections that overlap stand in two rows.
func (v *side) dimensions() (marks []drawing.Mark, bottom float64) {
	rows := [][]dimension{{{v.x(v.spec.TotalLength()), v.x(0), []string{v.pen.display.Written(v.spec.Length.Quantity()), v.pen.length(v.spec.TotalLength())}}}}
	if len(v.spec.Sections) > 1 {
		rows = append(rows, nil, nil)
		for i, at := range v.spec.SectionSpans() {
			section := v.spec.Sections[i]
			length := v.pen.length(float64(section.Length.Value))
			rows[1+i%2] = append(rows[1+i%2], dimension{v.x(at.To), v.x(at.From), []string{
				v.pen.section(section), section.Name.Text + " " + length, length, v.pen.number(float64(section.Length.Value)),
			}})
		}
	}
	for _, row := range rows {
		bottom += 1.5 * v.pen.letters
		for _, d := range row {
			marks = append(marks, v.pen.dimension(d, bottom))
		}
	}
	return marks, bottom + 1.5
}

// dimension draws one with its text on the line.
func (p Pen) dimension(d dimension, y float64) *drawing.Group {
	const tick = 0.7
	g := &drawing.Group{}
	middle, half := (d.from+d.to)/2, 0.0
	i := slices.IndexFunc(d.texts, func(t string) bool { return p.wide(t)+4 <= d.to-d.from })
	if i >= 0 {
		half = p.wide(d.texts[i])/2 + 1
		g.Add(p.faint(middle, y+0.36*p.letters, drawing.Middle, d.texts[i]))
	}
	g.Add(
		line(d.from, y, middle-half, y, drawing.Hair, thinLine), line(middle+half, y, d.to, y, drawing.Hair, thinLine),
		line(d.from, y-tick, d.from, y+tick, drawing.Hair, thinLine), line(d.to, y-tick, d.to, y+tick, drawing.Hair, thinLine),
	)
	return g
}

// extensions lead from the ends of the joints, which are those of sections, down
// to the rod.
func (v *side) extensions(top float64) []drawing.Mark {
	var marks []drawing.Mark
	for _, at := range v.spec.JointSpans() {
		for _, s := range []float64{at.From, at.To} {
			path := line(v.x(s), top-1, v.x(s), v.y(0)+1.5+v.across.mm(v.radius(s)), drawing.Hair, thinLine)
			path.Dash = []float64{0.8, 0.6}
			marks = append(marks, path)
		}
	}
	return marks
}

// places are the places of rings and handle below the rod, and what they are
// measured from: on a working drawing in rows of their own.
func (v *side) places(top float64) (marks []drawing.Mark, bottom float64) {
	p := v.pen
	fromTip := p.faint(p.width-margin, 0, drawing.End, p.say("rod.from tip", "unit", p.unit()))
	fromButt := p.faint(margin, 0, drawing.Start, p.say("rod.from butt", "unit", p.unit()))
	if !p.standard {
		marks, bottom = v.stations(append(v.handleStations(), v.ringStations()...), top)
		fromTip.At.Y = bottom + 1.5*p.letters
		fromButt.At.Y = fromTip.At.Y
		if p.wide(fromTip.Text)+p.wide(fromButt.Text)+p.letters > p.width-2*margin {
			fromButt.At.Y += 1.35 * p.letters
		}
		return append(marks, fromTip, fromButt), fromButt.At.Y
	}
	marks, bottom = v.stations(v.ringStations(), top)
	fromTip.At.Y = bottom + 1.5*p.letters
	handle, bottom := v.stations(v.handleStations(), fromTip.At.Y)
	fromButt.At.Y = bottom + p.letters
	return append(append(marks, handle...), fromTip, fromButt), fromButt.At.Y
}

// station is a place along the rod that a label tells.
type station struct {
	x, from float64 // where its leader begins, mm
	place   string
	size    string // of a ring
}

// stations are a row of labels below the rod, with lines that lead to them; top
// is where the row begins and bottom where it ends.
func (v *side) stations(list []station, top float64) (marks []drawing.Mark, bottom float64) {
	if len(list) == 0 {
		return nil, top
	}
	slices.SortStableFunc(list, func(a, b station) int { return cmp.Compare(a.x, b.x) })
	xs := make([]float64, len(list))
	long, wide := 0.0, 0.0
	for i, st := range list {
		xs[i] = st.x
		long, wide = max(long, v.pen.wide(st.place)), max(wide, v.pen.wide(st.size))
	}
	xs, pitch := v.pen.apart(xs, 1.4)
	bottom = top + knee + long + 0.5*v.pen.letters
	sizes := bottom + 0.8*v.pen.letters
	if wide > 0 {
		bottom = sizes
	}
	for i, st := range list {
		marks = append(marks, v.lead(st, xs[i], top)...)
		if st.size != "" && pitch > wide { // with thirty rings there is no room for it
			marks = append(marks, v.pen.label(xs[i], sizes, drawing.Middle, st.size))
		}
	}
	return marks, bottom
}

// knee is over how many mm a line leads aside to its label.
const knee = 3

// lead is the label of a station at x, with the line that leads to it.
func (v *side) lead(st station, x, top float64) []drawing.Mark {
	label := v.pen.hanging(x, top+knee+0.5, st.place)
	if st.size == "" {
		label.Ink = drawing.Faint
	}
	return []drawing.Mark{&drawing.Path{
		Points: []drawing.Point{{X: st.x, Y: st.from}, {X: st.x, Y: top}, {X: x, Y: top + knee}},
		Style:  drawing.Style{Stroke: drawing.Hair, Width: thinLine},
	}, label}
}

// ringStations tell where every ring but the tip ring stands and how large each
// is.
func (v *side) ringStations() []station {
	var list []station
	for i, ring := range v.spec.Rings {
		s := float64(ring.At.Value)
		from := v.y(v.ringEnd(i))
		if v.spec.Reel.Kind.OnTop() {
			from = v.y(-v.radius(s))
		}
		list = append(list, station{v.x(s), from + 0.5, v.pen.place(s), v.pen.ringSize(v.spec.Parts[ring.Part.Text])})
	}
	return list
}

// handleStations tell where grips begin and end and the seat has its middle.
func (v *side) handleStations() []station {
	var places []float64
	for _, g := range v.spec.Handle.Grips {
		places = append(places, float64(g.From.Value), float64(g.To.Value))
	}
	if v.spec.Handle.Seat.Part.Text != "" {
		places = append(places, float64(v.spec.Handle.Seat.At.Value))
	}
	slices.Sort(places)
	const same = 1e-3 // m
	places = slices.CompactFunc(places, func(a, b float64) bool { return math.Abs(a-b) < same })
	var list []station
	for _, z := range places {
		if z > same {
			list = append(list, station{x: v.fromButt(z), from: v.axis + v.across.mm(v.thick(z)) + 0.5, place: v.handlePlace(z)})
		}
	}
	return list
}

// handlePlace tells a place on the handle, and on a working drawing of the
// seat's middle what it is.
func (v *side) handlePlace(z float64) string {
	place, seat := v.pen.place(z), v.spec.Handle.Seat
	if v.pen.standard && seat.Part.Text != "" && math.Abs(z-float64(seat.At.Value)) < 1e-3 {
		return v.pen.say("rod.seat", "place", place)
	}
	return place
}

// thick is how far the handle stands off the axis at z metres from the butt.
func (v *side) thick(z float64) float64 {
	most := v.radius(v.spec.TotalLength() - z)
	for _, g := range v.spec.Handle.Grips {
		if z >= float64(g.From.Value) && z <= float64(g.To.Value) {
			most = max(most, float64(g.Diameter.Value)/2)
		}
	}
	if part := v.spec.Parts[v.spec.Handle.Seat.Part.Text]; part != nil {
		if math.Abs(z-float64(v.spec.Handle.Seat.At.Value)) <= float64(part.Length.Value)/2 {
			most = max(most, float64(part.Diameter.Value)/2)
		}
	}
	return most
}

// scaleLine says the scale.
func (v *side) scaleLine(y float64) []drawing.Mark {
	return v.pen.scaleLine(v.along, y, v.pen.say("scale", "along", v.along.text(v.pen), "across", v.across.text(v.pen)))
}
