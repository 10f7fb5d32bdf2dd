package beam

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

const (
	// lastStep is Solver.LastStep at first. Rounding leaves about 1e-13 on a mesh
	// of a thousand elements.
	lastStep = 1e-5
	// longestStep is the most that any angle may change in one step, in rad.
	// It keeps the linear response to a large load, which may be many turns,
	// from throwing the rod on to a looped equilibrium.
	longestStep = 0.6
	// mostSteps of Newton before a load is given up or taken in smaller parts.
	mostSteps = 60
	// mostHalvings of a step that does not lower the energy.
	mostHalvings = 30
	// smallestRise is the least part of a force that it is stepped up by.
	smallestRise = 1.0 / 1024
)

// Solver finds bends of one rod. It keeps its workspace and the last bend it
// found, from which the next begins; it must not be used by two goroutines at
// the same time. A failure leaves it as new.
type Solver struct {
	// LastStep is the Newton step, in rad and as a share of a force sought, after
	// which a bend is taken as found. About its square is left. NewSolver sets it
	// to 1e-5.
	LastStep float64

	rod       *Rod
	load      Load  // at which state is in equilibrium
	state     state // the last bend, straight at first
	trial     state
	step      state
	rate      state // derivative of the state, or of the slope, by the force
	row       state // derivative of a target by the state
	pot       potential
	next      potential // at trial
	hess      hessian
	ties      knotted // correction of hess for a line
	route     *route  // of the line through the rings, nil for a bare load
	lastRoute *route  // of the last line
	steps     int     // Newton steps since the call began
}

// NewSolver is a solver for that rod, which begins straight.
func NewSolver(r *Rod) *Solver {
	return &Solver{
		LastStep: lastStep,
		rod:      r, state: newState(r), trial: newState(r), step: newState(r), rate: newState(r), row: newState(r),
		pot: newPotential(r), next: newPotential(r), hess: newHessian(r),
	}
}

// TakeUp makes the solver one of another rod, which is straight at first. It keeps
// its workspace where that rod has as many nodes.
func (s *Solver) TakeUp(r *Rod) {
	if len(r.nodes) != len(s.rod.nodes) {
		step := s.LastStep
		*s = *NewSolver(r)
		s.LastStep = step
		return
	}
	s.rod = r
	s.straighten()
}

// StartFrom makes the next call begin with that bend, which may be one of
// another mesh or of a rod a little different.
func (s *Solver) StartFrom(sh *Shape) {
	share := sh.rod.Length() / s.rod.Length()
	e := 0
	turn := func(at float64) float64 {
		for at *= share; e+2 < len(sh.S) && at > sh.S[e+1]; {
			e++
		}
		return sh.turnIn(e, at)
	}
	for i := 1; i < len(s.rod.nodes); i++ {
		from, to := s.rod.nodes[i-1], s.rod.nodes[i]
		middle := turn((from + to) / 2)
		s.state.turn[i] = turn(to)
		s.state.bubble[i-1] = middle - (s.state.turn[i-1]+s.state.turn[i])/2
	}
	s.load = sh.Load
}

// Bend finds the stable bend that the rod comes to as the load grows from
// nothing. It begins at the last bend; where that does not lead there, it
// begins straight, and where that does not either it steps the load up. The
// error is a *Failure where the load is a proper one.
func (s *Solver) Bend(l Load) (*Shape, error) {
	if err := l.check(); err != nil {
		return nil, err
	}
	s.steps = 0
	if s.settle(l) == nil {
		return s.shape(l), nil
	}
	s.straighten()
	if s.settle(l) == nil {
		return s.shape(l), nil
	}
	s.straighten()
	if err := s.rise(l); err != nil {
		return nil, s.fail(err, l, "")
	}
	return s.shape(l), nil
}

// rise steps the force up from nothing, in smaller parts where it must.
func (s *Solver) rise(l Load) error {
	part := l
	part.Force = 0
	if err := s.settle(part); err != nil {
		return err
	}
	reached, rise := 0.0, 0.125
	last := newState(s.rod)
	for reached < 1 {
		copy(last.all, s.state.all)
		to := math.Min(1, reached+rise)
		part.Force = to * l.Force
		switch err := s.settle(part); {
		case err == nil:
			reached, rise = to, 2*rise
		case rise/2 < smallestRise:
			return err
		default:
			rise /= 2
			copy(s.state.all, last.all)
		}
	}
	return nil
}

// settle goes down in energy from the current state to an equilibrium by
// Newton's method, and says whether it is the stable bend wanted. Where the
// energy curves downwards the step is taken from its convex part.
func (s *Solver) settle(l Load) error {
	s.evaluate(&s.pot, l, s.state)
	for range mostSteps {
		s.steps++
		stable := s.factor(false)
		if !stable {
			s.factor(true)
		}
		s.newtonStep()
		size := s.step.largest()
		switch {
		case !s.descend(l, size):
			return ErrIterationLimit
		case size <= s.LastStep:
			return s.judge(l, stable)
		}
	}
	return ErrIterationLimit
}

// judge says whether the equilibrium just found is the one wanted.
func (s *Solver) judge(l Load, stable bool) error {
	switch {
	case !stable:
		return ErrUnstable
	case !s.inWindow(l):
		return ErrOtherBranch
	}
	s.load = l
	return nil
}

// newtonStep solves for the step that cancels the slope.
func (s *Solver) newtonStep() {
	floats.ScaleTo(s.step.all, -1, s.pot.slope.all)
	s.solve(s.step)
}

// descend takes the step, or as much of it as lowers the energy enough
// (Armijo 1966, Pacific J. Math. 16:1).
func (s *Solver) descend(l Load, size float64) bool {
	const enough = 1e-4
	share := math.Min(1, longestStep/size)
	fall := s.pot.slope.dot(s.step)
	rounding := 1e-13 * (s.pot.bending + math.Abs(s.pot.loads))
	for range mostHalvings {
		s.trial.add(s.state, s.step, share)
		s.evaluate(&s.next, l, s.trial)
		if s.next.energy() <= s.pot.energy()+enough*share*fall+rounding {
			s.state, s.trial = s.trial, s.state
			s.pot, s.next = s.next, s.pot
			return true
		}
		share /= 2
	}
	return false
}

// inWindow says whether every turn lies where the stable bend's must.
func (s *Solver) inWindow(l Load) bool {
	const rounding = 1e-9
	low, high := s.window(l)
	for _, turn := range s.state.turn {
		if !(turn >= low-rounding && turn <= high+rounding) {
			return false
		}
	}
	return true
}

// straighten forgets the last bend.
func (s *Solver) straighten() {
	clear(s.state.all)
	s.load = Load{}
}

// fail reports what was last tried and leaves the solver as new.
func (s *Solver) fail(reason error, l Load, target string) error {
	f := &Failure{Reason: reason, Load: l, Target: target, Residual: s.pot.slope.largest(), Iterations: s.steps}
	s.straighten()
	return f
}
