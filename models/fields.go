package models

import (
	"iter"
	"maps"
	"math"
	"slices"
	"strconv"

	"rodlore/evaluate/figures"
	"rodlore/models/units"
)

// Field is one leaf of a resolved spec.
type Field struct {
	Path  Path    // names the leaf
	Value float64 // in Unit; NaN where the leaf is text
	Unit  string  // SI, "m", "kg", "N", "Pa", "1"; "" for text
	Text  string  // as written
	Pos   Pos
}

// IsText reports whether the leaf is words and not a number.
func (f Field) IsText() bool { return f.Unit == "" }

// IsPrice reports whether the leaf says what something costs, which nobody can
// tell from the rod.
func (f Field) IsPrice() bool { return f.Path.Last() == "price" }

// OfRod reports whether the leaf makes the rod the one it is: it could be measured
// on the finished rod, or is knowledge of it from which its figures follow, such
// as readings, a fit and tolerances. What the rod is for, what is wanted of it,
// what is used with it and what its parts cost is not.
func (f Field) OfRod() bool {
	switch f.Path[0].Key {
	case "job", "casts", "line", "wants":
		return false
	case "reel": // of one, the rod shows on which side its rings stand and where it sits
		return f.Path.Last() == "kind" || f.Path.Last() == "at"
	}
	return !f.IsPrice()
}

// Fields yields every leaf of the spec in a fixed order: the model in the order
// of the format, then the parts and the materials it uses by name. A leaf that
// was not given is absent, and so is was, which is no part of the rod.
func (s *Spec) Fields() iter.Seq[Field] {
	return func(yield func(Field) bool) {
		w := &walk{yield: yield}
		w.model(s.Model)
		for _, name := range slices.Sorted(maps.Keys(s.Parts)) {
			w.part(s.Parts[name])
		}
		for _, name := range slices.Sorted(maps.Keys(s.Materials)) {
			w.material(s.Materials[name])
		}
	}
}

// walk hands out leaves until it is told to stop.
type walk struct {
	yield func(Field) bool
	done  bool
}

// leaf hands out the leaf of that key below a path, where it was given.
func (w *walk) leaf(under Path, key string, f Field) {
	if w.done || f.Text == "" {
		return
	}
	f.Path = under.To(key)
	w.done = !w.yield(f)
}

func (w *walk) word(under Path, key string, word Word) { w.text(under, key, word.Text, word.Pos) }

func (w *walk) text(under Path, key, text string, pos Pos) {
	w.leaf(under, key, Field{Value: math.NaN(), Text: text, Pos: pos})
}

func (w *walk) number(under Path, key string, value float64, pos Pos) {
	w.leaf(under, key, Field{Value: value, Unit: units.Ratio.Unit, Text: strconv.FormatFloat(value, 'f', -1, 64), Pos: pos})
}

// given hands out a quantity. It is no method, since those have no type
// parameters.
func given[U ~float64](w *walk, under Path, key string, g Given[U]) {
	w.leaf(under, key, Field{Value: float64(g.Value), Unit: units.Of[U]().Unit, Text: g.Text, Pos: g.Pos})
}

func (w *walk) model(m *Model) {
	w.word(nil, "name", m.Name)
	w.word(nil, "job", m.Job)
	w.reel(m.Reel)
	given(w, Path{{Key: "casts"}}, "least", m.Casts.Min)
	given(w, Path{{Key: "casts"}}, "most", m.Casts.Max)
	given(w, Path{{Key: "line"}}, "diameter", m.Line.Diameter)
	given(w, Path{{Key: "line"}}, "breaks", m.Line.Breaks)
	given(w, nil, "length", m.Length)
	for _, s := range m.Sections {
		w.section(s)
	}
	w.blank(m.Blank)
	for _, j := range m.Joints {
		w.joint(j)
	}
	for _, r := range m.Rings {
		w.ring(r)
	}
	w.handle(m.Handle)
	given(w, Path{{Key: "held"}}, "to", m.Held)
	w.finish(m.Finish)
	for _, want := range m.Wants {
		w.want(want)
	}
	w.tolerances(m.Tolerances)
	w.fitted(m.Fitted)
}

func (w *walk) reel(r Reel) {
	path := Path{{Key: "reel"}}
	w.text(path, "kind", string(r.Kind), r.Pos)
	given(w, path, "mass", r.Mass)
	given(w, path, "spool", r.Spool)
	given(w, path, "height", r.Height)
	given(w, path, "at", r.At)
}

func (w *walk) section(s Section) {
	path := sectionPath(s)
	w.word(path, "name", s.Name)
	given(w, path, "length", s.Length)
	for _, t := range s.Tube {
		at := path.In("tube", atLabel(t.At.Value))
		given(w, at, "at", t.At)
		given(w, at, "outside", t.Outside)
		given(w, at, "wall", t.Wall)
	}
	w.word(path, "material", s.Material)
	if s.Rolled != nil {
		w.rolled(path.To("rolled"), s.Rolled)
	}
	if s.Bought != nil {
		w.bought(path.To("bought"), s.Bought)
	}
	for _, t := range s.Stiffness {
		at := path.In("stiffness", atLabel(t.At.Value))
		given(w, at, "at", t.At)
		given(w, at, "ei", t.EI)
		given(w, at, "mass", t.Mass)
		given(w, at, "outside", t.Outside)
	}
}

func (w *walk) rolled(path Path, r *Rolled) {
	for _, m := range r.Mandrel {
		at := path.In("mandrel", atLabel(m.At.Value))
		given(w, at, "at", m.At)
		given(w, at, "diameter", m.Diameter)
	}
	for i, p := range r.Plies {
		at := plyPath(path, i)
		w.word(at, "material", p.Material)
		given(w, at, "angle", p.Angle)
		w.number(at.To("wraps"), "tip", p.TipWraps, p.Pos)
		w.number(at.To("wraps"), "butt", p.ButtWraps, p.Pos)
		given(w, at, "from", p.From)
		given(w, at, "to", p.To)
	}
}

func (w *walk) bought(path Path, b *Bought) {
	given(w, path, "mass", b.Mass)
	for _, o := range b.Outside {
		at := path.In("outside", atLabel(o.At.Value))
		given(w, at, "at", o.At)
		given(w, at, "is", o.Is)
	}
	w.text(path, "material", string(b.Material), b.Pos)
	given(w, path, "price", b.Price)
}

func (w *walk) blank(b BareBlank) {
	path := Path{{Key: "blank"}}
	given(w, path, "mass", b.Mass)
	given(w, path, "label test curve", b.LabelTestCurve)
	given(w, path.To("held"), "to", b.Held)
	for i, m := range b.Measured {
		w.measured(measuredPath(i), m)
	}
}

// measured hands out a measurement of a bare blank: a reading of which the value
// or the deviation is another is another reading.
func (w *walk) measured(path Path, m Measured) {
	w.word(path, "section", m.Section)
	if m.What != TraceMeasure {
		w.leaf(path, string(m.What), Field{Value: m.Value, Unit: m.Unit, Text: m.Text, Pos: m.Pos})
	}
	w.leaf(path, "deviation", Field{Value: m.Deviation, Unit: m.Unit, Text: m.Text, Pos: m.Pos})
	given(w, path, "at", m.At)
	given(w, path, "load", m.Load)
	given(w, path, "pivot", m.Pivot)
	if m.Swings > 0 {
		w.number(path, "swings", float64(m.Swings), m.Pos)
	}
	given(w, path, "in", m.During)
	for i, p := range m.Points {
		at := path.In("trace", strconv.Itoa(i+1))
		given(w, at, "x", p.X)
		given(w, at, "y", p.Y)
	}
}

func (w *walk) joint(j Joint) {
	path := jointPath(j)
	w.text(path, "kind", string(j.Kind), j.Pos)
	given(w, path, "length", j.Length)
	given(w, path, "gap", j.Gap)
	given(w, path, "outside", j.Outside)
	given(w, path, "wall", j.Wall)
	w.word(path, "material", j.Material)
	given(w, path, "mass", j.Mass)
	given(w, path, "bonding", j.Bonding)
}

func (w *walk) ring(r Ring) {
	path := RingPath(r)
	given(w, path, "at", r.At)
	w.word(path, "part", r.Part)
	given(w, path, "whipping", r.Whipping)
}

func (w *walk) handle(h Handle) {
	given(w, Path{{Key: "handle"}, {Key: "seat"}}, "at", h.Seat.At)
	w.word(Path{{Key: "handle"}, {Key: "seat"}}, "part", h.Seat.Part)
	for _, g := range h.Grips {
		path := gripPath(g)
		given(w, path, "from", g.From)
		given(w, path, "to", g.To)
		given(w, path, "diameter", g.Diameter)
		given(w, path, "ends", g.Ends)
		w.word(path, "material", g.Material)
		w.word(path, "part", g.Part)
	}
	w.word(Path{{Key: "handle"}, {Key: "butt cap"}}, "part", h.Cap.Part)
}

func (w *walk) finish(f Finish) {
	path := Path{{Key: "finish"}}
	w.word(path, "thread", f.Thread)
	w.word(path, "varnish", f.Varnish)
	w.word(path, "colour", f.Colour)
	w.word(path, "trim", f.Trim)
}

func (w *walk) want(want Want) {
	path := Path{{Key: "wants"}, {Key: want.Figure}}
	unit := figures.Of(want.Figure).Unit
	if !math.IsInf(want.Min, 0) {
		w.leaf(path, "least", Field{Value: want.Min, Unit: unit, Text: want.Text, Pos: want.Pos})
	}
	if !math.IsInf(want.Max, 0) {
		w.leaf(path, "most", Field{Value: want.Max, Unit: unit, Text: want.Text, Pos: want.Pos})
	}
}

func (w *walk) tolerances(t Tolerances) {
	path := Path{{Key: "tolerances"}}
	given(w, path, "outside", t.Outside)
	given(w, path, "wall", t.Wall)
	given(w, path, "modulus", t.Modulus)
	given(w, path, "density", t.Density)
	given(w, path, "ring position", t.RingPosition)
	given(w, path, "part mass", t.PartMass)
	given(w, path, "whipping", t.Whipping)
	given(w, path, "grip density", t.GripDensity)
}

func (w *walk) fitted(f *Fitted) {
	if f == nil {
		return
	}
	path := Path{{Key: "fitted"}}
	w.word(path, "to", f.To)
	w.text(path, "date", f.Date.Text, f.Date.Pos)
	for _, o := range f.Modulus {
		given(w, path.To("modulus"), o.Section.Text, o.By)
	}
	for _, o := range f.Wall {
		given(w, path.To("wall"), o.Section.Text, o.By)
	}
	given(w, path, "foot bonding", f.FootBonding)
	given(w, path, "damping", f.Damping)
}

func (w *walk) part(p *Part) {
	path := Path{{"parts", p.Name}}
	w.text(path, "kind", string(p.Kind), p.Pos)
	given(w, path, "size", p.Size)
	given(w, path, "height", p.Height)
	if p.Kind == RingPart {
		w.number(path, "feet", float64(p.Feet), p.Pos)
	}
	given(w, path.To("foot"), "length", p.Foot.Length)
	given(w, path.To("foot"), "width", p.Foot.Width)
	given(w, path.To("foot"), "thickness", p.Foot.Thickness)
	given(w, path.To("foot"), "spread", p.Foot.Spread)
	given(w, path.To("foot"), "bonding", p.Foot.Bonding)
	w.word(path, "frame", p.Frame)
	given(w, path, "length", p.Length)
	given(w, path, "diameter", p.Diameter)
	given(w, path, "thickness", p.Thickness)
	given(w, path, "density", p.Density)
	given(w, path, "modulus", p.Modulus)
	given(w, path, "mass", p.Mass)
	given(w, path, "price", p.Price)
}

func (w *walk) material(m *Material) {
	path := Path{{"materials", m.Name}}
	given(w, path, "modulus", m.Modulus)
	given(w, path, "hoop modulus", m.Hoop)
	given(w, path, "density", m.Density)
	given(w, path.To("strain"), "compression", m.StrainCompression)
	given(w, path.To("strain"), "tension", m.StrainTension)
	given(w, path, "along", m.E1)
	given(w, path, "across", m.E2)
	given(w, path, "shear", m.G12)
	given(w, path, "poisson", m.Nu12)
	given(w, path, "thickness", m.Thickness)
	given(w, path, "resin", m.Resin)
}
