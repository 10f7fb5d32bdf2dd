package beam

import (
	"math"
	"math/rand/v2"
	"testing"
)

// kneed is a tapered rod with a jump in stiffness, masses off the centreline
// and a load off it too: every term of the energy at work.
func kneed(t *testing.T) (*Rod, Load) {
	t.Helper()
	ei := func(s float64) float64 { return math.Pow(1.1-s, 3) }
	mu := func(s float64) float64 { return 0.03 * (1.2 - s) }
	r, err := NewRod(
		[]Piece{{To: 0.4, EI: func(s float64) float64 { return 2 * ei(s) }, Mu: mu}, {From: 0.4, To: 1, EI: ei, Mu: mu}},
		[]PointMass{{0.3, 0.02, 0.05}, {0.7, 0.01, -0.03}, {1, 0.005, 0.02}}, 12)
	if err != nil {
		t.Fatal(err)
	}
	return r, Load{Force: 1.5, Direction: 2, Offset: 0.04, Weight: true}
}

// someState is a bend that is no equilibrium.
func someState(r *Rod, rng *rand.Rand) state {
	st := newState(r)
	for i := range st.turn[1:] {
		st.turn[i+1] = st.turn[i] + 0.3*rng.Float64()
		st.bubble[i] = 0.1 * (rng.Float64() - 0.5)
	}
	return st
}

// randomStep changes every unknown.
func randomStep(r *Rod, rng *rand.Rand) state {
	step := newState(r)
	for i := range step.turn[1:] {
		step.turn[i+1], step.bubble[i] = rng.NormFloat64(), rng.NormFloat64()
	}
	return step
}

// shifted is the potential at st + share·step.
func shifted(r *Rod, l Load, st, step state, share float64) potential {
	at, p := newState(r), newPotential(r)
	at.add(st, step, share)
	p.evaluate(r, l, at)
	return p
}

const difference = 1e-5 // of a central difference: truncation and rounding both about 1e-10

func TestSlopeIsTheDerivativeOfTheEnergy(t *testing.T) {
	r, l := kneed(t)
	rng := rand.New(rand.NewPCG(1, 1))
	for range 20 {
		st, step := someState(r, rng), randomStep(r, rng)
		up, down := shifted(r, l, st, step, difference), shifted(r, l, st, step, -difference)
		want := (up.energy() - down.energy()) / (2 * difference)
		middle := shifted(r, l, st, step, 0)
		if got := middle.slope.dot(step); math.Abs(got-want) > 1e-7*(1+math.Abs(want)) {
			t.Errorf("slope along a step is %g, by differences %g", got, want)
		}
	}
}

func TestHessianIsTheDerivativeOfTheSlope(t *testing.T) {
	r, l := kneed(t)
	rng := rand.New(rand.NewPCG(2, 1))
	h := newHessian(r)
	for range 20 {
		st, step := someState(r, rng), randomStep(r, rng)
		up, down := shifted(r, l, st, step, difference), shifted(r, l, st, step, -difference)
		change := newState(r) // H·step by differences
		change.add(up.slope, down.slope, -1)
		scaled := newState(r)
		scaled.add(scaled, change, 1/(2*difference))
		middle := shifted(r, l, st, step, 0)
		h.factor(r, &middle, false)
		h.forward(scaled, 0)
		h.back(scaled) // should give the step back
		scaled.add(scaled, step, -1)
		if off := scaled.largest(); off > 1e-5 {
			t.Errorf("step comes back off by %g", off)
		}
	}
}

func TestRatesAreDerivatives(t *testing.T) {
	r, l := kneed(t)
	rng := rand.New(rand.NewPCG(3, 1))
	st, step := someState(r, rng), randomStep(r, rng)
	p, rate := shifted(r, l, st, step, 0), newState(r)
	t.Run("of the slope by the force", func(t *testing.T) {
		p.forceRate(r, l, st, rate)
		more, less := l, l
		more.Force, less.Force = l.Force+1, l.Force-1 // the slope is linear in it
		up, down := shifted(r, more, st, step, 0), shifted(r, less, st, step, 0)
		change := newState(r)
		change.add(up.slope, down.slope, -1)
		change.add(change, rate, -2)
		if off := change.largest(); off > 1e-12 {
			t.Errorf("rate is off by %g", off)
		}
	})
	t.Run("of the drop by the state", func(t *testing.T) {
		p.dropRate(r, rate)
		up, down := shifted(r, l, st, step, difference), shifted(r, l, st, step, -difference)
		want := (up.drop(r) - down.drop(r)) / (2 * difference)
		if got := rate.dot(step); math.Abs(got-want) > 1e-8 {
			t.Errorf("drop along a step is %g, by differences %g", got, want)
		}
	})
}

// The pivots against the definition: an energy that curves downwards along
// some step has a negative pivot, and the convex part never has one.
func TestPivotsTellAMinimum(t *testing.T) {
	r, l := kneed(t)
	rng := rand.New(rand.NewPCG(4, 1))
	h := newHessian(r)
	found := 0
	for range 200 {
		st, step := someState(r, rng), newState(r)
		copy(step.turn, r.nodes) // a smooth one, that bends little
		l.Force, l.Direction = 20*rng.Float64(), -3*rng.Float64()
		p := shifted(r, l, st, step, 0)
		positive := h.factor(r, &p, false)
		if !h.factor(r, &p, true) {
			t.Error("the convex part has a negative pivot")
		}
		up, down := shifted(r, l, st, step, 1e-4), shifted(r, l, st, step, -1e-4)
		if curvature := up.energy() - 2*p.energy() + down.energy(); curvature < -1e-9 {
			found++
			if positive {
				t.Error("all pivots are positive where the energy curves downwards")
			}
		}
	}
	if found < 20 {
		t.Errorf("only %d states of 200 curve downwards; the test looks at too little", found)
	}
}

// A stable bend has less energy than any bend near it.
func TestBendIsAMinimum(t *testing.T) {
	r, l := kneed(t)
	s := NewSolver(r)
	if _, err := s.Bend(l); err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(5, 1))
	least := shifted(r, l, s.state, s.state, 0)
	for range 100 {
		step := randomStep(r, rng)
		for _, share := range []float64{1e-4, 1e-3, 1e-2, 0.1} {
			if p := shifted(r, l, s.state, step, share); p.energy() <= least.energy() {
				t.Errorf("a step of %g lowers the energy from %g to %g", share, least.energy(), p.energy())
			}
		}
	}
}
