package evaluate

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"rodlore/evaluate/beam"
	"rodlore/models"
	"rodlore/models/units"
)

// layout is a ring pattern being laid out. Rings are counted from the tip
// without the tip ring, and places are m from the tip.
type layout struct {
	*Patterns
	at    []float64 // of the rings; the last one stays
	after []int     // index in the spec's rings of the one that each is made after
	sides []side    // of joints that rings keep to

	rod     *rod            // with the rings as they stand
	bent    *beam.LineShape // by the common pull
	holding []limit         // those that held the rings back at last
	unrest  float64         // how far a ring would still move, m, where they did not come to rest
}

// newLayout begins with the present pattern, stretched to the count and to the
// place of the butt ring.
func newLayout(p *Patterns, count int, buttRing float64) (*layout, error) {
	if count < FewestRings || count > MostRings {
		return nil, fmt.Errorf("a pattern has %d to %d", FewestRings, MostRings)
	}
	present := p.spec.Rings
	lowest := float64(present[len(present)-1].At.Value)
	buttRing = p.marks.nearest(buttRing)
	if buttRing == 0 {
		buttRing = lowest
	}
	l := &layout{Patterns: p, at: make([]float64, count), after: make([]int, count)}
	for i := range l.at {
		rank := float64(i+1) / float64(count) * float64(len(present)-1)
		above := min(int(rank), len(present)-2)
		from, to := float64(present[above].At.Value), float64(present[above+1].At.Value)
		l.at[i] = buttRing / lowest * (from + (to-from)*(rank-float64(above)))
	}
	l.at[count-1] = buttRing
	l.choose()
	return l, l.checkButtRing()
}

// checkButtRing refuses a butt ring that stands on the handle or on the tip.
func (l *layout) checkButtRing() error {
	last := len(l.at) - 1
	d := l.set.Display()
	fromButt, front := l.spec.TotalLength()-l.at[last], l.spec.HandleFront()
	switch {
	case fromButt-l.buttward(last) < front:
		return fmt.Errorf("a butt ring %s from the butt stands on the handle, which reaches to %s", d.Value("", "m", fromButt), d.Value("", "m", front))
	case l.at[last] <= l.buttward(-1)+l.tipward(last):
		return fmt.Errorf("a butt ring %s from the butt stands on the tip", d.Value("", "m", fromButt))
	}
	return nil
}

const (
	// settled is how far no ring moves any more, m.
	settled = 0.5e-3
	// mostRounds of bending the rod and moving its rings. Two to four do.
	mostRounds = 40
	// partRounds in which a ring may become another part by its new place, or
	// change sides of a joint; one midway would change for ever.
	partRounds = 5
	// undamped rounds. What has not settled by then goes back and forth.
	undamped = 6
	// shortest share of a move that is made then.
	shortest = 0.05
)

// settle bends the rod, moves its rings along it to where they share the turn
// of the line, and bends it again with them, until they stay. Where they do not,
// it takes those that moved least.
func (l *layout) settle() error {
	best, least := l.at, math.Inf(1)
	var last []float64
	part := 1.0
	for round := range mostRounds {
		changed := round < partRounds && l.choose()
		before := slices.Clone(l.at)
		if err := l.moveOn(round); err != nil {
			return err
		}
		move := make([]float64, len(before))
		floats.SubTo(move, l.at, before)
		moved := floats.Norm(move, math.Inf(1))
		if moved <= settled && !changed {
			return nil
		}
		if round < undamped {
			last = move
			continue
		}
		if moved < least {
			best, least = slices.Clone(l.at), moved
		}
		part = relaxed(part, move, last)
		floats.AddScaledTo(l.at, before, part, move)
		last = move
	}
	l.at, l.unrest = best, least
	return nil
}

// moveOn bends the rod and moves its rings along it.
func (l *layout) moveOn(round int) error {
	if err := l.bend(); err != nil {
		return err
	}
	if round < partRounds {
		return l.share(nil)
	}
	return l.share(l.sides)
}

// relaxed is the share to make of a move, after that share of the last one was
// made: the secant through both (Irons and Tuck 1969, International Journal for
// Numerical Methods in Engineering 1, 275–277; from memory). It is made whole where it
// is longer than the last and goes the same way: the secant points back to where rings
// would not stay.
func relaxed(part float64, move, last []float64) float64 {
	change := make([]float64, len(move))
	floats.SubTo(change, move, last)
	along, square := floats.Dot(last, change), floats.Dot(change, change)
	switch {
	case square == 0:
		return part
	case along > 0:
		return 1
	}
	return min(max(-part*along/square, shortest), 1)
}

// choose makes every ring after the present one that is nearest, the lowest
// after the lowest, and says whether that changed anything. A butt ring is one of
// its kind, so no other is made after it while there is another.
func (l *layout) choose() (changed bool) {
	last := len(l.at) - 1
	for i, at := range l.at {
		best := len(l.spec.Rings) - 1
		if i < last && best > 1 {
			best = l.nearestPresent(at, best-1)
		}
		changed = changed || l.after[i] != best
		l.after[i] = best
	}
	return changed
}

// nearestPresent is the index of the present ring, up to the last one given,
// that stands nearest; midway the smaller one will do.
func (l *layout) nearestPresent(at float64, last int) int {
	away := func(i int) float64 { return math.Abs(float64(l.spec.Rings[i].At.Value) - at) }
	best := last
	for i := last - 1; i > 0; i-- {
		if away(i) <= away(best) {
			best = i
		}
	}
	return best
}

// rings are the tip ring and those at the places given.
func (l *layout) rings(at []float64) []models.Ring {
	rings := []models.Ring{l.spec.Rings[0]}
	for i, s := range at {
		g := l.spec.Rings[l.after[i]]
		if math.Abs(float64(g.At.Value)-s) > 1e-9 {
			g.At = models.Given[units.Length]{Value: units.Length(s), Text: l.marks.place(s).Text, Pos: g.At.Pos}
		}
		rings = append(rings, g)
	}
	return rings
}

// bend bends the rod with the rings as they stand, as if they had no feet: with
// them the bend has a flat spot at every ring that would go along with it, and
// rings moved along a bend as it is would come to rest at its ends.
func (l *layout) bend() error {
	s, err := l.spec.WithRings(l.rings(l.at))
	if err != nil {
		return err
	}
	footed, err := assemble(s, l.set)
	if err != nil {
		return err
	}
	l.rod = footed.footless()
	b, err := l.rod.free(coarseElements)
	if err != nil {
		return err
	}
	l.bent, err = l.Patterns.bend(l.rod, b, l.bent)
	return err
}
