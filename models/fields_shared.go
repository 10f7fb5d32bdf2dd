package models

import (
	"iter"

	"rodlore/models/units"
)

// Fields yields every leaf of the part as Spec.Fields does.
func (p *Part) Fields() iter.Seq[Field] {
	return func(yield func(Field) bool) { (&walk{yield: yield}).part(p) }
}

// Fields yields every leaf of the material as Spec.Fields does.
func (m *Material) Fields() iter.Seq[Field] {
	return func(yield func(Field) bool) { (&walk{yield: yield}).material(m) }
}

// settings hands out what figures hang on, and how they are written.
func (w *walk) settings(s *Settings) {
	w.text(nil, "units", s.Units, Pos{})
	w.word(nil, "currency", s.Currency)
	given(w, Path{{Key: "test curve"}}, "pull", s.TestCurve.Pull)
	given(w, Path{{Key: "test curve"}}, "turn", s.TestCurve.Turn)
	w.text(Path{{Key: "test curve"}}, "line", s.TestCurve.Line, s.TestCurve.Pos)
	given(w, nil, "bench load", s.BenchLoad)
	w.number(nil, "strain factor", s.StrainFactor, Pos{})
	given(w, nil, "damping", s.Damping)
	given(w, nil, "foot bonding", s.FootBonding)
	w.tolerances(s.Tolerances)
	t := s.BenchTimes
	for i, each := range []Given[units.Duration]{t.Ring, t.Foot, t.TipRing, t.Joint, t.Grip, t.Seat, t.Cap, t.Varnish} {
		given(w, Path{{Key: "bench times"}}, benchTimeTable.keys[i].name, each)
	}
}
