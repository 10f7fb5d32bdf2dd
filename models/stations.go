package models

import "rodlore/models/units"

// Stations are what a section says of its cross-section along it, in SI units, by
// place; what its kind does not give is nil. Between stations all of it varies
// linearly.
type Stations struct {
	At            []float64 // from the thin end
	Outside, Wall []float64 // the outside of a hexagon is that from flat to flat
	Hollow        []float64 // of a hexagon, from flat to flat as well
	Mandrel       []float64
	EI, Mass      []float64 // measured
}

// Stations reads those of the section. The wall of a solid rod is the whole diameter,
// which leaves no bore however much thicker the rod comes out.
func (s *Section) Stations() (st Stations) {
	switch {
	case s.Tube != nil:
		for _, t := range s.Tube {
			put(&st.At, t.At)
			put(&st.Outside, t.Outside)
			put(&st.Wall, t.Wall)
		}
	case s.Hexagon != nil:
		for _, h := range s.Hexagon {
			put(&st.At, h.At)
			put(&st.Outside, h.Flats)
			put(&st.Hollow, h.Hollow)
		}
	case s.Solid != nil:
		for _, o := range s.Solid {
			put(&st.At, o.At)
			put(&st.Outside, o.Is)
			put(&st.Wall, o.Is)
		}
	case s.Rolled != nil:
		for _, m := range s.Rolled.Mandrel {
			put(&st.At, m.At)
			put(&st.Mandrel, m.Diameter)
		}
	case s.Bought != nil:
		for _, o := range s.Bought.Outside {
			put(&st.At, o.At)
			put(&st.Outside, o.Is)
		}
	default:
		for _, m := range s.Stiffness {
			put(&st.At, m.At)
			put(&st.EI, m.EI)
			put(&st.Mass, m.Mass)
			put(&st.Outside, m.Outside)
		}
	}
	return st
}

func put[U ~float64](list *[]float64, g Given[U]) { *list = append(*list, float64(g.Value)) }

// between takes one of the quantities from between the two stations around a place; ok
// is false where it is not given.
func (st Stations) between(values []float64, at units.Length) (value float64, ok bool) {
	for i := 1; i < len(values); i++ {
		from, to := st.At[i-1], st.At[i]
		if float64(at) <= to || i == len(values)-1 {
			return values[i-1] + (values[i]-values[i-1])*(float64(at)-from)/(to-from), to > from
		}
	}
	return 0, false
}
