package evaluate

import "math"

// masses are the mass figures of a rod, kg and m from the butt.
type masses struct {
	blank, whipping, rings, handle float64
	moment                         float64 // kg·m about the butt end
	swing                          float64 // kg·m² about the hand
}

func (m masses) total() float64   { return m.blank + m.whipping + m.rings + m.handle }
func (m masses) balance() float64 { return m.moment / m.total() }

// gauss3 is the three-point Gauss rule on [-1, 1], exact to degree five: a
// tube's area is of degree two in z and the swing's arm of degree two more
// (Abramowitz and Stegun 1964, table 25.4).
var gauss3 = [3]struct{ x, w float64 }{
	{-math.Sqrt(0.6), 5. / 9}, {0, 8. / 9}, {math.Sqrt(0.6), 5. / 9},
}

// weigh integrates the masses along the rod.
func (r *rod) weigh() masses {
	var m masses
	for _, p := range r.pieces {
		for _, c := range p.stations {
			m.blank += c.weight * c.Blank
			m.whipping += c.weight * c.Wraps
			m.handle += c.weight * c.Handle
			m.moment += c.weight * c.Mu() * c.z
			m.swing += c.weight * c.Mu() * (c.z - r.seat) * (c.z - r.seat)
		}
	}
	for _, g := range r.rings {
		m.rings += g.mass
		m.moment += g.mass * g.z
		m.swing += g.mass * (g.z - r.seat) * (g.z - r.seat)
	}
	return m
}
