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
	for i := range r.pieces {
		p := &r.pieces[i]
		half := p.length() / 2
		for _, g := range gauss3 {
			z := p.from + half*(1+g.x)
			c := p.at(z)
			w := g.w * half
			m.blank += w * c.Blank
			m.whipping += w * c.Wraps
			m.handle += w * c.Handle
			m.moment += w * c.Mu() * z
			m.swing += w * c.Mu() * (z - r.seat) * (z - r.seat)
		}
	}
	for _, g := range r.rings {
		m.rings += g.mass
		m.moment += g.mass * g.z
		m.swing += g.mass * (g.z - r.seat) * (g.z - r.seat)
	}
	return m
}
