package evaluate

import (
	"math"

	"rodlore/evaluate/beam"
)

// loose is a section taken off the rod with all that stands on it, or the whole
// rod: its mass, kg, and the integrals of mass times the distance from its butt
// end and times the square of that.
type loose struct{ mass, moment, square float64 }

func (l *loose) add(mass, at float64) {
	l.mass += mass
	l.moment += mass * at
	l.square += mass * at * at
}

func (l loose) balance() float64 { return l.moment / l.mass }

// period is that of small swings about a pivot that far from the butt end, s:
// 2π√(I/(m·g·arm)), the compound pendulum of Huygens 1673 (Horologium
// oscillatorium, part IV). A swing of ten degrees to either side takes 0.2 %
// longer. What lies off the middle line counts as lying on it.
func (l loose) period(pivot float64) float64 {
	inertia := l.square - 2*pivot*l.moment + pivot*pivot*l.mass
	return 2 * math.Pi * math.Sqrt(inertia/(l.mass*beam.Gravity*math.Abs(l.balance()-pivot)))
}

// wholeRod is the rod put together.
func (r *rod) wholeRod() loose {
	var l loose
	for _, p := range r.pieces {
		for _, c := range p.stations {
			l.add(c.weight*c.Mu(), c.z)
		}
	}
	for _, g := range r.rings {
		l.add(g.mass, g.z)
	}
	return l
}

// section is section i, with the plug or sleeve of the joint at its upper end and
// what it is glued to for good.
func (r *rod) section(i int) loose {
	var l loose
	i = r.spec.PieceOf(i)
	end := r.members[i].from
	for _, p := range r.pieces {
		mid := (p.from + p.to) / 2
		var tubes []func(float64) tube
		for _, m := range r.members {
			if m.has(mid) && r.spec.PieceOf(m.section) == i {
				tubes = append(tubes, m.on(mid))
			}
		}
		carries := r.spec.PieceOf(r.carrier(mid)) == i
		for _, c := range p.stations {
			mu := 0.0
			if carries {
				mu = c.Wraps + c.Handle
			}
			for _, on := range tubes {
				mu += on(c.z).Mu
			}
			l.add(c.weight*mu, c.z-end)
		}
	}
	for _, g := range r.rings {
		if r.spec.PieceOf(r.carrier(g.z)) == i {
			l.add(g.mass, g.z-end)
		}
	}
	return l
}

// carrier is the section that what stands on the rod at z is fastened to: the outer
// one where one goes into the other.
func (r *rod) carrier(z float64) int {
	return r.spec.SectionAt(r.length - z)
}
