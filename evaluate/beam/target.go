package beam

import (
	"fmt"
	"math"
)

// target is a figure of the tip that a force is to be found for.
type target struct {
	value   float64
	name    string // for errors
	measure func(s *Solver) float64
	// gradient fills s.row with the derivative of measure by the state.
	gradient func(s *Solver)
}

// BendToTurn finds the force, in the load's direction, under which the tip
// turns by that much, in rad; the load's own Force is not used. It is the first
// that does so as it grows from nothing, and it must turn the tip further the
// way it points: where the weight alone has turned it as far, or no force ever
// does, the Failure's status is NoSuchLoad.
func (s *Solver) BendToTurn(l Load, turn float64) (*Shape, error) {
	t := target{
		value: turn, name: fmt.Sprintf("turn of %.6g°", turn*180/math.Pi),
		measure: func(s *Solver) float64 { return s.state.turn[len(s.state.turn)-1] },
		gradient: func(s *Solver) {
			clear(s.row.turn)
			clear(s.row.bubble)
			s.row.turn[len(s.row.turn)-1] = 1
		},
	}
	low, high := l.window(s.rod.offsets)
	return s.bendTo(l, t, low, high)
}

// BendToDrop finds the force, in the load's direction, under which the tip's
// centreline lies that much lower than the butt, in m, as BendToTurn does.
func (s *Solver) BendToDrop(l Load, drop float64) (*Shape, error) {
	t := target{
		value: drop, name: fmt.Sprintf("drop of %.6g m", drop),
		measure:  func(s *Solver) float64 { return s.pot.drop(s.rod) },
		gradient: func(s *Solver) { s.pot.dropRate(s.rod, s.row) },
	}
	return s.bendTo(l, t, -s.rod.Length(), s.rod.Length())
}

// bendTo refuses targets outside low to high, which no force reaches, and
// otherwise tries to go there from the last bend, and then from no force at
// all, in smaller parts where it must.
func (s *Solver) bendTo(l Load, t target, low, high float64) (*Shape, error) {
	l.Force = 0
	if err := l.check(); err != nil {
		return nil, err
	}
	if !finite(t.value) {
		return nil, fmt.Errorf("the tip cannot be brought to a %s", t.name)
	}
	s.steps = 0
	if t.value <= low || t.value >= high {
		return nil, s.fail(NoSuchLoad, l, t.name)
	}
	if s.load.Force > 0 {
		l.Force = s.load.Force
		if _, status := s.border(&l, t); status == Converged {
			return s.shape(l), nil
		}
	}
	if status := s.approach(&l, t); status != Converged {
		return nil, s.fail(status, l, t.name)
	}
	return s.shape(l), nil
}

// approach goes to the target from no force at all, in smaller parts where it
// must. Where even the smallest part fails and the force has lost its grip on
// the target, the target lies beyond what any force reaches.
func (s *Solver) approach(l *Load, t target) Status {
	l.Force = 0
	s.straighten()
	if status := s.settle(*l); status != Converged {
		return status
	}
	from := t.measure(s)
	if (t.value-from)*l.sense() <= 0 {
		return NoSuchLoad
	}
	last, force, grip := newState(s.rod), 0.0, 0.0
	for reached, rise := 0.0, 1.0; reached < 1; {
		last.copyFrom(s.state)
		force = l.Force
		part := t
		to := math.Min(1, reached+rise)
		part.value = from + to*(t.value-from)
		if force == 0 {
			s.startForce(l, part)
		}
		gripThere, status := s.border(l, part)
		if status == Converged {
			reached, rise, grip = to, 2*rise, gripThere
			continue
		}
		rise /= 2
		s.state.copyFrom(last)
		l.Force = force
		if rise < smallestRise {
			return givenUp(status, grip, (1-reached)*math.Abs(t.value-from))
		}
	}
	return Converged
}

// givenUp tells a target that no force reaches from one that was not found: by
// whether e times the force would bring the tip an eighth of the way that is
// left.
func givenUp(status Status, grip, left float64) Status {
	if 8*grip < left {
		return NoSuchLoad
	}
	return status
}

// startForce takes the step from no force to where the linear response reaches
// the target.
func (s *Solver) startForce(l *Load, t target) {
	s.pot.evaluate(s.rod, *l, s.state)
	s.hess.factor(s.rod, &s.pot, false)
	s.pot.forceRate(s.rod, *l, s.state, s.rate)
	s.hess.solve(s.rate)
	t.gradient(s)
	l.Force = -(t.value - t.measure(s)) / s.row.dot(s.rate)
	s.state.add(s.state, s.rate, -l.Force)
}

// border is Newton's method on the state and the logarithm of the force
// together, the target being the equation for the force: the bordered system
//
//	H·dx + r·dλ = −g,  c·dx = value − measure,  r = ∂g/∂ln P
//
// solved by two back substitutions (Riks 1979, Int. J. Solids Struct. 15:529,
// with the target as the constraint). The logarithm keeps the force positive
// and suits a turn that nears the pull's direction like exp(−√P). It also
// gives the grip, what the target gains in e times the force, linearly.
func (s *Solver) border(l *Load, t target) (grip float64, status Status) {
	const mostBordered, mostLogStep = 25, 1.0
	for range mostBordered {
		s.steps++
		s.pot.evaluate(s.rod, *l, s.state)
		stable := s.hess.factor(s.rod, &s.pot, false)
		s.newtonStep()
		s.pot.forceRate(s.rod, *l, s.state, s.rate)
		s.hess.solve(s.rate)
		t.gradient(s)
		slope := -l.Force * s.row.dot(s.rate)
		log := (t.value - t.measure(s) - s.row.dot(s.step)) / slope
		s.step.add(s.step, s.rate, -l.Force*log)
		size := math.Max(s.step.largest(), math.Abs(log))
		if !finite(size) {
			return 0, IterationLimit
		}
		if size <= angleTolerance {
			return slope * l.sense(), s.judge(*l, stable, slope)
		}
		share := math.Min(1, longestStep/math.Max(s.step.largest(), math.Abs(log)*longestStep/mostLogStep))
		s.state.add(s.state, s.step, share)
		l.Force *= math.Exp(share * log)
	}
	return 0, IterationLimit
}

// judge says whether the equilibrium just found is stable and the target still
// grew with the force there.
func (s *Solver) judge(l Load, stable bool, slope float64) Status {
	switch {
	case !stable:
		return Unstable
	case slope*l.sense() <= 0 || !s.inWindow(l):
		return OtherBranch
	}
	s.load = l
	return Converged
}
