package models

import (
	"fmt"
	"iter"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"rodlore/evaluate/figures"
	"rodlore/models/units"
)

// Field is one leaf of a resolved spec.
type Field struct {
	// Path names the leaf and stays the same when a list is reordered: list
	// entries are keyed by name or position, "sections[tip].tube[at 0 mm].wall",
	// "rings[at 95 mm].part", "parts[SL-6].mass".
	Path  string
	Value float64 // in Unit; NaN where the leaf is text
	Unit  string  // SI, "m", "kg", "N", "Pa", "1"; "" for text
	Text  string  // as written
	Pos   Pos
}

// IsText reports whether the leaf is words and not a number.
func (f Field) IsText() bool { return f.Unit == "" }

// IsPrice reports whether the leaf says what something costs, which nobody can
// tell from the rod.
func (f Field) IsPrice() bool { return strings.HasSuffix(f.Path, ".price") }

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

func (w *walk) leaf(f Field) {
	if !w.done && f.Text != "" {
		w.done = !w.yield(f)
	}
}

func (w *walk) word(path string, word Word) { w.text(path, word.Text, word.Pos) }

func (w *walk) text(path, text string, pos Pos) {
	w.leaf(Field{Path: path, Value: math.NaN(), Text: text, Pos: pos})
}

func (w *walk) number(path string, value float64, pos Pos) {
	w.leaf(Field{path, value, units.Ratio.Unit, strconv.FormatFloat(value, 'f', -1, 64), pos})
}

// given hands out a quantity. It is no method, since those have no type
// parameters.
func given[U ~float64](w *walk, path string, g Given[U]) {
	w.leaf(Field{path, float64(g.Value), units.Of[U]().Unit, g.Text, g.Pos})
}

func (w *walk) model(m *Model) {
	w.word("name", m.Name)
	w.word("job", m.Job)
	w.reel(m.Reel)
	given(w, "casts.least", m.Casts.Min)
	given(w, "casts.most", m.Casts.Max)
	given(w, "line.diameter", m.Line.Diameter)
	given(w, "line.breaks", m.Line.Breaks)
	given(w, "length", m.Length)
	for _, s := range m.Sections {
		w.section(s)
	}
	for _, j := range m.Joints {
		w.joint(j)
	}
	for _, r := range m.Rings {
		w.ring(r)
	}
	w.handle(m.Handle)
	given(w, "held.to", m.Held)
	w.finish(m.Finish)
	for _, want := range m.Wants {
		w.want(want)
	}
	w.tolerances(m.Tolerances)
	w.fitted(m.Fitted)
}

func (w *walk) reel(r Reel) {
	w.text("reel.kind", string(r.Kind), r.Pos)
	given(w, "reel.mass", r.Mass)
	given(w, "reel.spool", r.Spool)
	given(w, "reel.height", r.Height)
	given(w, "reel.at", r.At)
}

func (w *walk) section(s Section) {
	path := sectionPath(s)
	w.word(path+".name", s.Name)
	given(w, path+".length", s.Length)
	for _, t := range s.Tube {
		at := fmt.Sprintf("%s.tube[%s]", path, atLabel(t.At.Value))
		given(w, at+".at", t.At)
		given(w, at+".outside", t.Outside)
		given(w, at+".wall", t.Wall)
	}
	w.word(path+".material", s.Material)
	if s.Rolled != nil {
		w.rolled(path+".rolled", s.Rolled)
	}
	for _, t := range s.Stiffness {
		at := fmt.Sprintf("%s.stiffness[%s]", path, atLabel(t.At.Value))
		given(w, at+".at", t.At)
		given(w, at+".ei", t.EI)
		given(w, at+".mass", t.Mass)
		given(w, at+".outside", t.Outside)
	}
}

func (w *walk) rolled(path string, r *Rolled) {
	for _, m := range r.Mandrel {
		at := fmt.Sprintf("%s.mandrel[%s]", path, atLabel(m.At.Value))
		given(w, at+".at", m.At)
		given(w, at+".diameter", m.Diameter)
	}
	for i, p := range r.Plies {
		at := plyPath(path, i)
		w.word(at+".material", p.Material)
		given(w, at+".angle", p.Angle)
		w.number(at+".wraps.tip", p.TipWraps, p.Pos)
		w.number(at+".wraps.butt", p.ButtWraps, p.Pos)
		given(w, at+".from", p.From)
		given(w, at+".to", p.To)
	}
}

func (w *walk) joint(j Joint) {
	path := jointPath(j)
	w.text(path+".kind", string(j.Kind), j.Pos)
	given(w, path+".length", j.Length)
	given(w, path+".gap", j.Gap)
	given(w, path+".outside", j.Outside)
	given(w, path+".wall", j.Wall)
	w.word(path+".material", j.Material)
	given(w, path+".mass", j.Mass)
	given(w, path+".bonding", j.Bonding)
}

func (w *walk) ring(r Ring) {
	path := ringPath(r)
	given(w, path+".at", r.At)
	w.word(path+".part", r.Part)
	given(w, path+".whipping", r.Whipping)
}

func (w *walk) handle(h Handle) {
	given(w, "handle.seat.at", h.Seat.At)
	w.word("handle.seat.part", h.Seat.Part)
	for _, g := range h.Grips {
		path := gripPath(g)
		given(w, path+".from", g.From)
		given(w, path+".to", g.To)
		given(w, path+".diameter", g.Diameter)
		given(w, path+".ends", g.Ends)
		w.word(path+".material", g.Material)
		w.word(path+".part", g.Part)
	}
	w.word("handle.butt cap.part", h.Cap.Part)
}

func (w *walk) finish(f Finish) {
	w.word("finish.thread", f.Thread)
	w.word("finish.varnish", f.Varnish)
	w.word("finish.colour", f.Colour)
	w.word("finish.trim", f.Trim)
}

func (w *walk) want(want Want) {
	path := "wants." + want.Figure
	unit := figures.Of(want.Figure).Unit
	if !math.IsInf(want.Min, 0) {
		w.leaf(Field{path + ".least", want.Min, unit, want.Text, want.Pos})
	}
	if !math.IsInf(want.Max, 0) {
		w.leaf(Field{path + ".most", want.Max, unit, want.Text, want.Pos})
	}
}

func (w *walk) tolerances(t Tolerances) {
	given(w, "tolerances.outside", t.Outside)
	given(w, "tolerances.wall", t.Wall)
	given(w, "tolerances.modulus", t.Modulus)
	given(w, "tolerances.density", t.Density)
	given(w, "tolerances.ring position", t.RingPosition)
	given(w, "tolerances.part mass", t.PartMass)
	given(w, "tolerances.whipping", t.Whipping)
	given(w, "tolerances.grip density", t.GripDensity)
}

func (w *walk) fitted(f *Fitted) {
	if f == nil {
		return
	}
	w.word("fitted.to", f.To)
	w.text("fitted.date", f.Date.Text, f.Date.Pos)
	for _, o := range f.Modulus {
		given(w, "fitted.modulus."+o.Section.Text, o.By)
	}
	for _, o := range f.Wall {
		given(w, "fitted.wall."+o.Section.Text, o.By)
	}
	given(w, "fitted.foot bonding", f.FootBonding)
	given(w, "fitted.damping", f.Damping)
}

func (w *walk) part(p *Part) {
	path := "parts[" + p.Name + "]"
	w.text(path+".kind", string(p.Kind), p.Pos)
	given(w, path+".size", p.Size)
	given(w, path+".height", p.Height)
	if p.Kind == RingPart {
		w.number(path+".feet", float64(p.Feet), p.Pos)
	}
	given(w, path+".foot.length", p.Foot.Length)
	given(w, path+".foot.width", p.Foot.Width)
	given(w, path+".foot.thickness", p.Foot.Thickness)
	given(w, path+".foot.spread", p.Foot.Spread)
	given(w, path+".foot.bonding", p.Foot.Bonding)
	w.word(path+".frame", p.Frame)
	given(w, path+".length", p.Length)
	given(w, path+".diameter", p.Diameter)
	given(w, path+".thickness", p.Thickness)
	given(w, path+".density", p.Density)
	given(w, path+".modulus", p.Modulus)
	given(w, path+".mass", p.Mass)
	given(w, path+".price", p.Price)
}

func (w *walk) material(m *Material) {
	path := "materials[" + m.Name + "]"
	given(w, path+".modulus", m.Modulus)
	given(w, path+".hoop modulus", m.Hoop)
	given(w, path+".density", m.Density)
	given(w, path+".strain.compression", m.StrainCompression)
	given(w, path+".strain.tension", m.StrainTension)
	given(w, path+".along", m.E1)
	given(w, path+".across", m.E2)
	given(w, path+".shear", m.G12)
	given(w, path+".poisson", m.Nu12)
	given(w, path+".thickness", m.Thickness)
	given(w, path+".resin", m.Resin)
}
