package beam

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// threaded is a solver of the kneed rod with a line in its rings: one of them
// within an element, shares of the tension that friction would make, and on the
// outside of the bend so low that the line lies on the blank.
func threaded(t *testing.T, outside bool) (*Solver, Load) {
	t.Helper()
	r, bare := kneed(t)
	l := Line{
		Tension: 1.5, Direction: bare.Direction, Weight: true, Reel: LineRing{-0.1, 0.05},
		Rings:  []LineRing{{0.3, 0.04}, {0.52, 0.035}, {0.81, 0.03}, {1, 0.03}},
		Radius: func(s float64) float64 { return 0.02 - 0.01*s },
	}
	if outside {
		l.Reel.Offset = -l.Reel.Offset
		for i := range l.Rings {
			l.Rings[i].Offset = -l.Rings[i].Offset
		}
	}
	s := NewSolver(r)
	var err error
	if s.route, err = newRoute(r, l, nil); err != nil {
		t.Fatal(err)
	}
	for i := range s.route.spans {
		s.route.spans[i].share = 1 + 0.1*float64(i)
	}
	return s, l.load()
}

// forBothSides runs a test with the line inside and outside the bend.
func forBothSides(t *testing.T, test func(t *testing.T, s *Solver, l Load)) {
	for _, side := range []struct {
		name    string
		outside bool
	}{{"inside the bend", false}, {"outside the bend", true}} {
		t.Run(side.name, func(t *testing.T) {
			s, l := threaded(t, side.outside)
			test(t, s, l)
		})
	}
}

// lineShifted is the potential at st + share·step with the solver's line.
func (s *Solver) lineShifted(l Load, st, step state, share float64) potential {
	at, p := newState(s.rod), newPotential(s.rod)
	at.add(st, step, share)
	s.evaluate(&p, l, at)
	return p
}

func (p *potential) knotsOnBlank() int {
	n := 0
	for _, k := range p.line.knots {
		if k.ring == onBlank {
			n++
		}
	}
	return n
}

func TestLineSlopeIsTheDerivativeOfTheEnergy(t *testing.T) {
	forBothSides(t, func(t *testing.T, s *Solver, l Load) {
		rng := rand.New(rand.NewPCG(6, 1))
		touching := 0
		for range 20 {
			st, step := someState(s.rod, rng), randomStep(s.rod, rng)
			up, down := s.lineShifted(l, st, step, difference), s.lineShifted(l, st, step, -difference)
			want := (up.energy() - down.energy()) / (2 * difference)
			middle := s.lineShifted(l, st, step, 0)
			if got := middle.slope.dot(step); math.Abs(got-want) > 1e-7*(1+math.Abs(want)) {
				t.Errorf("slope along a step is %g, by differences %g", got, want)
			}
			touching += middle.knotsOnBlank()
		}
		if onBlank := touching > 0; onBlank != (l.Offset < 0) {
			t.Errorf("the line touches the blank %d times", touching)
		}
	})
}

// lineHessian is the second variation by differences of the slope, the clamp
// left out: turns first, then bubbles.
func (s *Solver) lineHessian(l Load, st state) *mat.SymDense {
	n := len(s.rod.elements)
	h := mat.NewSymDense(2*n, nil)
	unit := newState(s.rod)
	for i := range 2 * n {
		one := &unit.bubble[i%n]
		if i < n {
			one = &unit.turn[i+1]
		}
		*one = 1
		up, down := s.lineShifted(l, st, unit, difference), s.lineShifted(l, st, unit, -difference)
		*one = 0
		for j := range n {
			h.SetSym(i, j, (up.slope.turn[j+1]-down.slope.turn[j+1])/(2*difference))
			h.SetSym(i, j+n, (up.slope.bubble[j]-down.slope.bubble[j])/(2*difference))
		}
	}
	return h
}

func TestLineStepSolvesTheSecondVariation(t *testing.T) {
	forBothSides(t, func(t *testing.T, s *Solver, l Load) {
		rng := rand.New(rand.NewPCG(7, 1))
		for range 10 {
			st, step := someState(s.rod, rng), randomStep(s.rod, rng)
			s.evaluate(&s.pot, l, st)
			s.factor(false)
			n := len(s.rod.elements)
			x := mat.NewVecDense(2*n, append(append([]float64{}, step.turn[1:]...), step.bubble...))
			var b mat.VecDense
			b.MulVec(s.lineHessian(l, st), x)
			got := newState(s.rod)
			copy(got.turn[1:], b.RawVector().Data[:n])
			copy(got.bubble, b.RawVector().Data[n:])
			s.solve(got)
			got.add(got, step, -1)
			// The differences are good for 1e-9 of the largest entry, and the
			// bubbles a hundred times as stiff as the rod.
			if off := got.largest(); off > 1e-5 {
				t.Errorf("step comes back off by %g", off)
			}
		}
	})
}

// The verdict of the pivots against the eigenvalues of the whole second
// variation, by gonum.
func TestLinePivotsTellAMinimum(t *testing.T) {
	forBothSides(t, func(t *testing.T, s *Solver, l Load) {
		rng := rand.New(rand.NewPCG(8, 1))
		verdicts := map[bool]int{}
		for range 60 {
			st := someState(s.rod, rng)
			l.Force, l.Direction = 12*rng.Float64(), 3-6*rng.Float64()
			var eigen mat.EigenSym
			if !eigen.Factorize(s.lineHessian(l, st), false) {
				t.Fatal("no eigenvalues")
			}
			least := eigen.Values(nil)[0]
			s.evaluate(&s.pot, l, st)
			positive := s.factor(false)
			verdicts[positive]++
			if math.Abs(least) > 1e-6 && positive != (least > 0) {
				t.Errorf("positive is %v, the least eigenvalue %g", positive, least)
			}
			if !s.factor(true) {
				t.Error("the convex part has a negative pivot")
			}
		}
		if verdicts[true] < 5 || verdicts[false] < 5 {
			t.Errorf("verdicts %v: the test looks at too little", verdicts)
		}
	})
}

func TestLineRateIsTheDerivativeByTheTension(t *testing.T) {
	forBothSides(t, func(t *testing.T, s *Solver, l Load) {
		rng := rand.New(rand.NewPCG(9, 1))
		st, rate := someState(s.rod, rng), newState(s.rod)
		copy(s.state.all, st.all)
		s.evaluate(&s.pot, l, st)
		s.forceRate(l, rate)
		more, less := l, l
		more.Force, less.Force = l.Force+1, l.Force-1 // the slope is linear in it
		up, down := s.lineShifted(more, st, st, 0), s.lineShifted(less, st, st, 0)
		change := newState(s.rod)
		change.add(up.slope, down.slope, -1)
		change.add(change, rate, -2)
		if off := change.largest(); off > 1e-12 {
			t.Errorf("rate is off by %g", off)
		}
	})
}

func TestLineBendIsAMinimum(t *testing.T) {
	forBothSides(t, func(t *testing.T, s *Solver, l Load) {
		if _, err := s.Bend(l); err != nil {
			t.Fatal(err)
		}
		rng := rand.New(rand.NewPCG(10, 1))
		least := s.lineShifted(l, s.state, s.state, 0)
		for range 100 {
			step := randomStep(s.rod, rng)
			for _, share := range []float64{1e-4, 1e-3, 1e-2, 0.1} {
				if p := s.lineShifted(l, s.state, step, share); p.energy() <= least.energy() {
					t.Errorf("a step of %g lowers the energy from %g to %g", share, least.energy(), p.energy())
				}
			}
		}
	})
}

// Signorini's conditions at every place of the surface: it does not stand
// beyond the line, the line only presses, and only where there is no gap.
func TestLineTouchesOrStandsClear(t *testing.T) {
	forBothSides(t, func(t *testing.T, s *Solver, l Load) {
		if _, err := s.Bend(l); err != nil {
			t.Fatal(err)
		}
		touching := map[float64]bool{}
		p := &s.pot
		for i, k := range p.line.knots {
			if k.ring != onBlank {
				continue
			}
			touching[k.s] = true
			side := s.route.spans[p.line.chords[i].span].side
			press := -side * p.line.force(i).dot(k.normal)
			if !(press > 0) {
				t.Errorf("the line pulls at the blank at %g by %g N", k.s, press)
			}
		}
		for i, c := range p.line.chords {
			from, to := p.line.knots[i], p.line.knots[i+1]
			for _, pl := range s.route.spans[c.span].places {
				if pl.s < from.s || pl.s > to.s {
					continue
				}
				k := s.route.knot(p, &s.state, pl)
				gap := -s.route.spans[c.span].side * c.along.cross(k.at.minus(from.at))
				if gap < -1e-14 {
					t.Errorf("the blank stands %g m beyond the line at %g", -gap, pl.s)
				}
				if touching[pl.s] && gap > 1e-14 {
					t.Errorf("the line presses at %g over a gap of %g m", pl.s, gap)
				}
			}
		}
		if onBlank := len(touching) > 0; onBlank != (l.Offset < 0) {
			t.Errorf("the line touches at %d places", len(touching))
		}
	})
}
