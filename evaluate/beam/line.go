package beam

import (
	"fmt"
	"math"
)

// Line is a line under tension that is made fast at the reel, slides in the
// rings and leaves the tip ring in a fixed direction.
type Line struct {
	Tension   float64    // N, beyond the tip ring; 0 or more
	Direction float64    // rad from the clamped tangent, of the line beyond the tip ring
	Weight    bool       // the rod and its point masses pull down as well
	Reel      LineRing   // where the line leaves the spool
	Rings     []LineRing // butt first; the last is the tip ring and stands at the tip

	// Friction is the capstan coefficient of the rings: positive where the line
	// runs towards the reel, which then bears more than the tip ring; negative
	// where it pays out.
	Friction float64
	// Radius is that of the blank's surface at s, in m. With it the line lies on
	// the blank, without friction, wherever it would otherwise cut into it; nil
	// lets it pass.
	Radius func(s float64) float64
	// Surface tells radii apart: of lines of one Surface, other than nil, it is the
	// same, so that a solver need not ask for it again.
	Surface any

	// LoadsOnly leaves the spans unmeasured, and so Length, Gap and Touch 0: a
	// search for a tension has no use for them.
	LoadsOnly bool
}

// LineRing is a place that the line goes through.
type LineRing struct {
	S      float64 // m from the clamp; 0 or less is on the part that is held
	Offset float64 // m of the line from the centreline, positive on the hollow side
}

// load is what the line does beyond the tip ring.
func (l Line) load() Load {
	return Load{Force: l.Tension, Direction: l.Direction, Offset: l.Rings[len(l.Rings)-1].Offset, Weight: l.Weight}
}

// check refuses what is no line through the rings of that rod.
func (l Line) check(r *Rod) error {
	if len(l.Rings) == 0 {
		return fmt.Errorf("a line needs a tip ring to run through")
	}
	length := r.Length()
	before := l.Reel
	if !finite(before.S, before.Offset) {
		return fmt.Errorf("the reel must stand at a finite place, not %+v", before)
	}
	for i, ring := range l.Rings {
		if !finite(ring.S, ring.Offset) || ring.S-before.S <= joinTolerance*length {
			return fmt.Errorf("ring %d at %g m must stand nearer the tip than what is before it, at %g m", i, ring.S, before.S)
		}
		before = ring
	}
	if math.Abs(before.S-length) > joinTolerance*length {
		return fmt.Errorf("the last ring must be the tip ring, at %g m, not at %g m", length, before.S)
	}
	if !finite(l.Friction) {
		return fmt.Errorf("a coefficient of friction must be a finite number, not %g", l.Friction)
	}
	return l.load().check()
}

// BendLine finds the stable bend that the rod comes to as the line's tension
// grows from nothing, as Bend does for a load.
func (s *Solver) BendLine(l Line) (*LineShape, error) {
	return s.lay(l, func() (*Shape, error) { return s.Bend(l.load()) })
}

// BendLineToTurn finds the tension under which the tip turns by that much, in
// rad, as BendToTurn does for a load; the line's own Tension is not used. Near
// the line's direction there may be two such tensions or none, since the turn
// may go beyond it and come back as the tension grows.
func (s *Solver) BendLineToTurn(l Line, turn float64) (*LineShape, error) {
	l.Tension = 0
	return s.lay(l, func() (*Shape, error) { return s.BendToTurn(l.load(), turn) })
}

const (
	// shareTolerance is the change of a span's share of the tension, from one
	// bend to the next, at which friction is taken as settled.
	shareTolerance = 1e-11
	// mostRubs of friction before it is given up.
	mostRubs = 60
)

// lay bends the rod with the line in its rings. Friction has no potential, so
// the shares of the tension in the spans are held while the rod is bent and
// taken anew from the turns of the line, until they stay.
func (s *Solver) lay(l Line, bend func() (*Shape, error)) (*LineShape, error) {
	if err := l.check(s.rod); err != nil {
		return nil, err
	}
	if err := s.plan(l); err != nil {
		return nil, err
	}
	defer func() { s.route = nil }()
	for range mostRubs {
		sh, err := bend()
		if err != nil {
			return nil, fmt.Errorf("line through %d rings: %w", len(l.Rings), err)
		}
		if s.route.rub(&s.pot.line) <= shareTolerance {
			return s.lineShape(sh, l), nil
		}
	}
	err := s.fail(ErrIterationLimit, s.load, "")
	return nil, fmt.Errorf("line through %d rings with a friction of %g: %w", len(l.Rings), l.Friction, err)
}

// plan sets the route of the line, the last one where it serves again.
func (s *Solver) plan(l Line) (err error) {
	if s.lastRoute != nil && s.lastRoute.serves(s.rod, l) {
		s.lastRoute.relay(l)
	} else if s.lastRoute, err = newRoute(s.rod, l, s.lastRoute); err != nil {
		return err
	}
	s.route = s.lastRoute
	return nil
}

// evaluate works out the potential of a state under the load and the line.
func (s *Solver) evaluate(p *potential, l Load, st state) {
	p.evaluate(s.rod, l, st)
	p.line.clear()
	if s.route != nil {
		p.addLine(s.route, l.Force, &st)
	}
}

// factor works out the second variation at the last evaluation and says
// whether it is positive, as hessian.factor does without a line.
func (s *Solver) factor(convex bool) (positive bool) {
	positive = s.hess.factor(s.rod, &s.pot, convex)
	ties := s.pot.line.ties
	negative := s.ties.factor(s.rod, &s.hess, ties)
	if len(ties) == 0 {
		return positive
	}
	return negative == s.hess.negative()
}

// solve overwrites the right-hand side b with the solution.
func (s *Solver) solve(b state) {
	s.ties.solve(&s.hess, b)
}

// forceRate fills out with the derivative of the slope by the force of the
// load and, with it, the tension of the line.
func (s *Solver) forceRate(l Load, out state) {
	s.pot.forceRate(s.rod, l, s.state, out)
	if s.route != nil {
		out.add(out, s.pot.line.slope, 1)
	}
}

// window is the range of turns that the stable bend must keep to.
func (s *Solver) window(l Load) (low, high float64) {
	return l.window(s.route != nil || l.Offset != 0 || l.Weight && s.rod.offsets)
}
