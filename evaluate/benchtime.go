package evaluate

import (
	"rodlore/models"
	"rodlore/models/units"
)

// benchTime adds up what the maker's hands need for the rod, by the range's
// times for one of each, in s.
func (r *rod) benchTime(t *models.BenchTimes) float64 {
	var sum units.Duration
	add := func(n int, each models.Given[units.Duration]) { sum += units.Duration(n) * each.Value }
	running := len(r.spec.Rings) - 1
	add(1, t.TipRing)
	add(running, t.Ring)
	add(r.whippings(), t.Foot)
	add(len(r.spec.Joints), t.Joint)
	h := r.spec.Handle
	add(len(h.Grips), t.Grip)
	add(present(h.Seat.Part), t.Seat)
	add(present(h.Cap.Part), t.Cap)
	add(present(r.spec.Finish.Varnish), t.Varnish)
	return float64(sum)
}

// present is 1 where something is named.
func present(w models.Word) int {
	if w.Text == "" {
		return 0
	}
	return 1
}

// whippings counts the whippings over feet and over the tip ring's tube.
func (r *rod) whippings() int {
	n := 0
	for _, g := range r.spec.Rings {
		if part := r.spec.Parts[g.Part.Text]; whippingOn(g, part) > 0 {
			n += max(part.Feet, 1)
		}
	}
	return n
}
