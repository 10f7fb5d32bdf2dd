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
// turns by that much, in rad; the load's own Force is not used. The turn grows
// with the force as long as the pull is square or leans back and stands on the
// centreline; then there is at most one such force. Elsewhere there may be
// several, and the one found is mostly the smallest. Where no force is found,
// the Failure wraps ErrNoSuchLoad.
func (s *Solver) BendToTurn(l Load, turn float64) (*Shape, error) {
	t := target{
		value: turn, name: fmt.Sprintf("turn of %.6g°", turn*180/math.Pi),
		measure: func(s *Solver) float64 { return s.state.turn[len(s.state.turn)-1] },
		gradient: func(s *Solver) {
			clear(s.row.all)
			s.row.turn[len(s.row.turn)-1] = 1
		},
	}
	low, high := s.window(l)
	return s.bendTo(l, t, low, high)
}

// BendToDrop finds the force, in the load's direction, under which the tip's
// centreline lies that much lower than the butt, in m, as BendToTurn does. The
// drop grows with a force that is square to the butt and on the centreline.
func (s *Solver) BendToDrop(l Load, drop float64) (*Shape, error) {
	t := target{
		value: drop, name: fmt.Sprintf("drop of %.6g m", drop),
		measure:  func(s *Solver) float64 { return s.pot.drop(s.rod) },
		gradient: func(s *Solver) { s.pot.dropRate(s.rod, s.row) },
	}
	return s.bendTo(l, t, -s.rod.Length(), s.rod.Length())
}

// bendTo refuses targets outside low to high, which no force reaches, and
// otherwise tries to go there from the last bend, and then from no force.
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
		return nil, s.fail(ErrNoSuchLoad, l, t.name)
	}
	if s.load.Force > 0 {
		l.Force = s.load.Force
		if s.border(&l, t, l.Direction) == nil {
			return s.shape(l), nil
		}
	}
	if err := s.approach(&l, t); err != nil {
		return nil, s.fail(err, l, t.name)
	}
	return s.shape(l), nil
}

// approach goes to the target from no force at all: from where the linear
// response reaches it, or else by a search along the load.
func (s *Solver) approach(l *Load, t target) error {
	l.Force = 0
	s.straighten()
	if err := s.settle(*l); err != nil {
		return err
	}
	toGo := t.value - t.measure(s)
	if toGo == 0 {
		return nil
	}
	if s.startForce(l, t); l.Force > 0 && s.border(l, t, toGo) == nil {
		return nil
	}
	return s.search(l, t, toGo)
}

const (
	// firstForce and mostDoublings set the forces that are searched, as shares
	// of the one that would move the tip by a rod's length if the rod stayed
	// as stiff as it is straight: from a thousandth to a million.
	firstForce    = 1.0 / 1024
	mostDoublings = 30
)

// search doubles the force until the target lies between two forces. toGo is
// how far it is from the measure without force.
func (s *Solver) search(l *Load, t target, toGo float64) error {
	s.straighten()
	low := 0.0
	l.Force = firstForce * s.rod.TipStiffness() * s.rod.Length()
	for range mostDoublings {
		if err := s.settle(*l); err != nil {
			return err
		}
		if (t.value-t.measure(s))*toGo <= 0 {
			return s.narrow(l, t, toGo, low, l.Force)
		}
		low = l.Force
		l.Force *= 2
	}
	return ErrNoSuchLoad
}

// narrow halves the stretch between two forces until Newton's method finds the
// target in it.
func (s *Solver) narrow(l *Load, t target, toGo, low, high float64) error {
	for range mostHalvings {
		if s.border(l, t, toGo) == nil && low <= l.Force && l.Force <= high {
			return nil
		}
		l.Force = (low + high) / 2
		s.straighten()
		if err := s.settle(*l); err != nil {
			return err
		}
		if (t.value-t.measure(s))*toGo <= 0 {
			high = l.Force
		} else {
			low = l.Force
		}
	}
	return ErrIterationLimit
}

// startForce takes the step from the equilibrium without force, just found, to
// where the linear response reaches the target.
func (s *Solver) startForce(l *Load, t target) {
	s.forceRate(*l, s.rate)
	s.solve(s.rate)
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
// and suits a turn that nears the pull's direction like exp(−√P). The target
// must grow with the force, or shrink if sense is negative: where it does not,
// a smaller force would do.
func (s *Solver) border(l *Load, t target, sense float64) error {
	const mostBordered, longestLog = 25, 1.0
	s.evaluate(&s.pot, *l, s.state)
	for range mostBordered {
		s.steps++
		stable := s.factor(false)
		s.newtonStep()
		s.forceRate(*l, s.rate)
		s.solve(s.rate)
		t.gradient(s)
		slope := -l.Force * s.row.dot(s.rate)
		log := (t.value - t.measure(s) - s.row.dot(s.step)) / slope
		s.step.add(s.step, s.rate, -l.Force*log)
		size := s.step.largest()
		if !finite(size, log) {
			return ErrIterationLimit
		}
		share := min(1, longestStep/size, longestLog/math.Abs(log))
		s.state.add(s.state, s.step, share)
		l.Force *= math.Exp(share * log)
		s.evaluate(&s.pot, *l, s.state)
		if max(size, math.Abs(log)) <= s.LastStep {
			return s.judge(*l, stable && slope*sense > 0)
		}
	}
	return ErrIterationLimit
}
