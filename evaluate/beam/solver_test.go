package beam_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"rodlore/evaluate/beam"
)

// ringed is a tapered rod with a stiff joint and masses off the centreline.
func ringed(t testing.TB, stiffer float64, elements int) *beam.Rod {
	d := func(s float64) float64 { return 1 - 0.75*s }
	piece := func(from, to, factor float64) beam.Piece {
		return beam.Piece{
			From: from, To: to,
			EI: func(s float64) float64 { return stiffer * factor * math.Pow(d(s), 3) },
			Mu: func(s float64) float64 { return 0.01 * d(s) },
		}
	}
	pieces := []beam.Piece{piece(0, 0.4, 1), piece(0.4, 0.45, 2), piece(0.45, 1, 1)}
	masses := []beam.PointMass{{S: 0.3, Mass: 0.004, Offset: 0.02}, {S: 0.45, Mass: 0.003, Offset: 0.015}, {S: 1, Mass: 0.001, Offset: 0.005}}
	return newRod(t, pieces, masses, elements)
}

// The free body of everything beyond any node: its forces and the moments of
// them about the node, worked out from where everything is, balance the moment
// there. No equation of the solver is used.
func TestFreeBodiesBalance(t *testing.T) {
	rod := ringed(t, 1, 160)
	masses := []beam.PointMass{{S: 0.3, Mass: 0.004, Offset: 0.02}, {S: 0.45, Mass: 0.003, Offset: 0.015}, {S: 1, Mass: 0.001, Offset: 0.005}}
	for _, l := range []beam.Load{
		{Force: 0.4, Direction: math.Pi / 2},
		{Force: 0.4, Direction: 2, Offset: 0.03},
		{Force: 0.4, Direction: 1.2, Offset: -0.02, Weight: true},
		{Weight: true},
	} {
		t.Run(l.String(), func(t *testing.T) {
			sh := bent(t)(beam.NewSolver(rod).Bend(l))
			for _, from := range []float64{0, 0.2, 0.3, 0.43, 0.8} {
				within(t, fmt.Sprintf("moment at %g", from), sh.MomentAt(from), momentBeyond(sh, l, masses, from), 2e-8)
			}
		})
	}
}

// momentBeyond is the moment about the point at from of what acts beyond it.
func momentBeyond(sh *beam.Shape, l beam.Load, masses []beam.PointMass, from float64) float64 {
	base, tip := sh.At(from), sh.Tip()
	sin, cos := math.Sincos(tip.Turn)
	x, y := tip.X-l.Offset*sin-base.X, tip.Y+l.Offset*cos-base.Y
	m := l.Force * (x*math.Sin(l.Direction) - y*math.Cos(l.Direction))
	if !l.Weight {
		return m
	}
	weigh := func(s float64) float64 { return beam.Gravity * 0.01 * (1 - 0.75*s) * (sh.At(s).X - base.X) }
	for _, part := range [][2]float64{{0, 0.2}, {0.2, 0.3}, {0.3, 0.4}, {0.4, 0.43}, {0.43, 0.45}, {0.45, 0.8}, {0.8, 1}} {
		if part[0] >= from {
			m += quad.Fixed(weigh, part[0], part[1], 40, nil, 0)
		}
	}
	for _, mass := range masses {
		if mass.S > from { // at the node itself it belongs to the side of the clamp
			at := sh.At(mass.S)
			m += beam.Gravity * mass.Mass * (at.X - mass.Offset*math.Sin(at.Turn) - base.X)
		}
	}
	return m
}

// Without weight, stiffness and force times k give the same curve. The trade
// says it too: two rods of the same action and another power bend alike under
// loads in the ratio of their stiffness (common practice, no source).
func TestStifferRodUnderMoreForceBendsTheSame(t *testing.T) {
	l := beam.Load{Force: 0.5, Direction: 1.9, Offset: 0.02}
	unscaled := beam.NewSolver(ringed(t, 1, 60))
	base := bent(t)(unscaled.Bend(l))
	for _, k := range []float64{1e-3, 0.5, 3, 1e4} {
		t.Run(fmt.Sprintf("%g", k), func(t *testing.T) {
			scaled := l
			scaled.Force *= k
			s := beam.NewSolver(ringed(t, k, 60))
			sh := bent(t)(s.Bend(scaled))
			for i := range sh.S {
				within(t, "turn", sh.Turn[i], base.Turn[i], 1e-12)
				within(t, "x", sh.X[i], base.X[i], 1e-12)
				within(t, "moment", sh.Moment[i].Before/k, base.Moment[i].Before, 1e-12)
			}
			within(t, "energy", s.Strung().Energy/k, unscaled.Strung().Energy, 1e-12)
		})
	}
}

// A pull to the other side bends the rod into the mirror image.
func TestPullToTheOtherSide(t *testing.T) {
	rod := ringed(t, 1, 60)
	down := bent(t)(beam.NewSolver(rod).Bend(beam.Load{Force: 0.5, Direction: 2, Offset: 0.02}))
	up := bent(t)(beam.NewSolver(rod).Bend(beam.Load{Force: 0.5, Direction: -2, Offset: -0.02}))
	for i := range up.S {
		within(t, "turn", up.Turn[i], -down.Turn[i], 1e-12)
		within(t, "x", up.X[i], down.X[i], 1e-12)
		within(t, "y", up.Y[i], -down.Y[i], 1e-12)
	}
	l := beam.Load{Direction: -2, Offset: -0.02}
	turned := bent(t)(beam.NewSolver(rod).BendToTurn(l, up.Tip().Turn))
	within(t, "force for the turn", turned.Load.Force, 0.5, 1e-9)
}

// Halving the elements divides the error by sixteen, and what it changes
// brackets the error that is left.
func TestRefinementConvergesAndBounds(t *testing.T) {
	for _, degrees := range []float64{30, 60, 85} {
		t.Run(fmt.Sprintf("%g deg", degrees), func(t *testing.T) {
			force, x, y := elastica(degrees * degree)
			rod := uniform(t, 0, 20)
			var before beam.Point
			var last float64 // error of the place on the mesh before
			for halvings := range 4 {
				tip := bent(t)(beam.NewSolver(rod).Bend(beam.Load{Force: force, Direction: math.Pi / 2})).Tip()
				err := math.Hypot(tip.X-x, tip.Y-y)
				if halvings > 0 {
					within(t, "order", math.Log2(last/err), 4, 0.2) // 20 elements are not yet in the limit
					change := math.Hypot(tip.X-before.X, tip.Y-before.Y)
					within(t, "error by the change over 15", change/15/err, 1, 0.2)
					turn := math.Abs(tip.Turn - degrees*degree)
					if most := math.Abs(tip.Turn - before.Turn); turn > most {
						t.Errorf("%d halvings change the turn by %g, less than the error %g left", halvings, most, turn)
					}
				}
				before, last, rod = tip, err, rod.Refined()
			}
		})
	}
}

// Between the nodes the shape is as good as at them.
func TestPointsBetweenNodesConvergeAsFast(t *testing.T) {
	l := beam.Load{Force: 4, Direction: 2, Weight: true}
	rod := tapered(t, 0.4, thinTube, 0.1, 20)
	exact := bent(t)(beam.NewSolver(tapered(t, 0.4, thinTube, 0.1, 2000)).Bend(l))
	var last [4]float64 // largest errors on the mesh before
	for halvings := range 4 {
		sh := bent(t)(beam.NewSolver(rod).Bend(l))
		var worst [4]float64
		for k := range 97 { // far from any node or middle of the meshes
			s := (float64(k) + 0.37) / 97
			at, want := sh.At(s), exact.At(s)
			for i, off := range [4]float64{at.X - want.X, at.Y - want.Y, at.Turn - want.Turn, at.Curvature - want.Curvature} {
				worst[i] = max(worst[i], math.Abs(off))
			}
		}
		for i, what := range [4]string{"x", "y", "turn", "curvature"} {
			if order := math.Log2(last[i] / worst[i]); halvings > 0 && order < 3.7 {
				t.Errorf("%s converges with the order %.2f only, %g after %g", what, order, worst[i], last[i])
			}
		}
		last, rod = worst, rod.Refined()
	}
}

// What the force does on its way, P·δ − ∫δ dP, is what the bend stores.
func TestForcePaysForTheBend(t *testing.T) {
	const force, direction = 0.8, 1.9
	s := beam.NewSolver(ringed(t, 1, 120))
	along := func(p float64) float64 {
		tip := bent(t)(s.Bend(beam.Load{Force: p, Direction: direction})).Tip()
		return (tip.X-1)*math.Cos(direction) + tip.Y*math.Sin(direction)
	}
	bent(t)(s.Bend(beam.Load{Force: force, Direction: direction}))
	stored := s.Strung().Energy
	work := force*along(force) - quad.Fixed(along, 0, force, 40, nil, 0)
	within(t, "stored energy", stored, work, 1e-7*work) // 120 elements
}

// The bend does not depend on what the solver bent before, nor on where it was
// told to begin.
func TestBendsDoNotRememberOthers(t *testing.T) {
	rod := ringed(t, 1, 60)
	s := beam.NewSolver(rod)
	loads := []beam.Load{
		{Force: 0.3, Direction: math.Pi / 2, Weight: true},
		{Force: 20, Direction: 2.6},
		{Force: 0.02, Direction: 0.3},
		{Force: 3, Direction: -1.5},
		{Force: 0.3, Direction: 2.2, Offset: 0.03, Weight: true},
		{},
	}
	for i, before := range loads {
		for j, l := range loads {
			t.Run(fmt.Sprintf("%d after %d", j, i), func(t *testing.T) {
				fresh := bent(t)(beam.NewSolver(rod).Bend(l))
				other := bent(t)(s.Bend(before))
				after := bent(t)(s.Bend(l))
				s.StartFrom(other)
				started := bent(t)(s.Bend(l))
				within(t, "turn", after.Tip().Turn, fresh.Tip().Turn, 1e-9)
				within(t, "turn when told where to begin", started.Tip().Turn, fresh.Tip().Turn, 1e-9)
			})
		}
	}
}

func TestStartFromSavesSteps(t *testing.T) {
	coarse := ringed(t, 1, 60)
	l := beam.Load{Direction: math.Pi / 2, Weight: true}
	rough := bent(t)(beam.NewSolver(coarse).BendToTurn(l, 85*degree))
	fine := beam.NewSolver(coarse.Refined())
	cold := bent(t)(fine.BendToTurn(l, 85*degree))
	straight := fine.Steps()
	fine.StartFrom(rough)
	warm := bent(t)(fine.BendToTurn(l, 85*degree))
	within(t, "force", warm.Load.Force, cold.Load.Force, 1e-9*cold.Load.Force)
	if fine.Steps() > 3 || fine.Steps() >= straight {
		t.Errorf("started from the coarse bend it takes %d steps, straight %d", fine.Steps(), straight)
	}
}

// A steep pull back over the butt by a load above the rod first pushes it up
// and over: neither Newton's way goes down to that bend at once.
func TestForceIsSteppedUpWhereItMust(t *testing.T) {
	ei := func(s float64) float64 { return math.Pow(1-0.65*s, 3) }
	pieces := []beam.Piece{
		{To: 0.35, EI: func(s float64) float64 { return 1.07 * ei(s) }, Mu: constant(0.09)},
		{From: 0.35, To: 1, EI: ei, Mu: constant(0.09)},
	}
	masses := []beam.PointMass{{S: 0.8, Mass: 0.084, Offset: -0.0035}, {S: 1, Mass: 0.02, Offset: -0.0035}}
	l := beam.Load{Force: 51.4, Direction: 179.915 * degree, Offset: -0.0093, Weight: true}
	sh := bent(t)(beam.NewSolver(newRod(t, pieces, masses, 27)).Bend(l))
	// The same, a little at a time by hand.
	s := beam.NewSolver(newRod(t, pieces, masses, 27))
	var by *beam.Shape
	for part := 1; part <= 400; part++ {
		step := l
		step.Force *= float64(part) / 400
		by = bent(t)(s.Bend(step))
	}
	within(t, "turn", sh.Tip().Turn, by.Tip().Turn, 1e-9)
}

// Pulled forwards at 45°, a heavy rod is first drawn up a little and then out
// and down again: the force for a drop that its weight alone falls short of is
// not to be found near no force at all.
func TestForceThatFirstWorksTheOtherWay(t *testing.T) {
	rod := uniform(t, 8/beam.Gravity, 40)
	l := beam.Load{Direction: 45 * degree, Weight: true}
	alone := bent(t)(beam.NewSolver(rod).Bend(l)).Tip()
	sh := bent(t)(beam.NewSolver(rod).BendToDrop(l, 0.65))
	if alone.Y > 0.641 || sh.Load.Force < 50 || sh.Load.Force > 55 {
		t.Errorf("drop is %g by weight alone and 0.65 at %g N, want 0.6406 and a force just over 50 N", alone.Y, sh.Load.Force)
	}
	within(t, "drop", bent(t)(beam.NewSolver(rod).Bend(sh.Load)).Tip().Y, 0.65, 1e-9)

	t.Run("no force at all", func(t *testing.T) {
		sh := bent(t)(beam.NewSolver(rod).BendToTurn(l, alone.Turn))
		within(t, "force", sh.Load.Force, 0, 0)
	})
}

func TestWhatNoForceReaches(t *testing.T) {
	light, heavy := uniform(t, 0, 40), uniform(t, 2, 40)
	square := beam.Load{Direction: math.Pi / 2}
	for _, c := range []struct {
		name string
		find func() (*beam.Shape, error)
		want string
	}{
		{"turn beyond the pull", func() (*beam.Shape, error) { return beam.NewSolver(light).BendToTurn(square, 91*degree) }, "turn of 91°"},
		{"turn as far as the pull", func() (*beam.Shape, error) { return beam.NewSolver(light).BendToTurn(square, math.Pi/2) }, "turn of 90°"},
		{"turn away from the pull", func() (*beam.Shape, error) { return beam.NewSolver(light).BendToTurn(square, -0.1) }, "turn of -5.72958°"},
		{"drop of the whole length", func() (*beam.Shape, error) { return beam.NewSolver(light).BendToDrop(square, 1) }, "drop of 1 m"},
		{"drop above the butt", func() (*beam.Shape, error) { return beam.NewSolver(light).BendToDrop(square, -0.5) }, "drop of -0.5 m"},
		{"drop less than by weight", func() (*beam.Shape, error) {
			return beam.NewSolver(heavy).BendToDrop(beam.Load{Direction: math.Pi / 2, Weight: true}, 0.2)
		}, "drop of 0.2 m"},
		{"turn past what the offset allows", func() (*beam.Shape, error) {
			return beam.NewSolver(light).BendToTurn(beam.Load{Direction: math.Pi / 2, Offset: 0.1}, 85*degree)
		}, "turn of 85°"},
	} {
		t.Run(c.name, func(t *testing.T) {
			sh, err := c.find()
			var f *beam.Failure
			if !errors.As(err, &f) || !errors.Is(err, beam.ErrNoSuchLoad) {
				t.Fatalf("error is %v, want no such load", err)
			}
			if sh != nil {
				t.Error("there is a shape beside the error")
			}
			for _, want := range []string{c.want, "residual", "load "} {
				if !strings.Contains(err.Error(), want) {
					t.Errorf("error %q does not name %q", err, want)
				}
			}
		})
	}
}

// A pull back along the butt keeps a rod straight up to Euler's load, π²EI/4L²,
// and over it no bend is the one to come to.
func TestPullAlongTheButt(t *testing.T) {
	euler := math.Pi * math.Pi / 4
	rod := uniform(t, 0, 40)
	straight := bent(t)(beam.NewSolver(rod).Bend(beam.Load{Force: 0.999 * euler, Direction: math.Pi}))
	within(t, "turn below Euler's load", straight.Tip().Turn, 0, 1e-9)
	_, err := beam.NewSolver(rod).Bend(beam.Load{Force: 1.001 * euler, Direction: math.Pi})
	if !errors.Is(err, beam.ErrUnstable) {
		t.Errorf("above Euler's load the error is %v, want that it is unstable", err)
	}
}

// Forces so large that the whole bend lies in one element still give the bend
// of that mesh, or say why not.
func TestHugeForces(t *testing.T) {
	rod := ringed(t, 1, 40)
	for _, direction := range []float64{0.5, math.Pi / 2, 2.5, 3.1} {
		for _, exponent := range []float64{2, 3, 4, 6, 8, 10, 12, 100, 200, 300} {
			l := beam.Load{Force: math.Pow(10, exponent), Direction: direction}
			t.Run(l.String(), func(t *testing.T) {
				sh, err := beam.NewSolver(rod).Bend(l)
				if err != nil {
					if f := new(beam.Failure); !errors.As(err, &f) || sh != nil {
						t.Errorf("error is %v beside the shape %v, want a Failure alone", err, sh)
					}
					return
				}
				within(t, "turn", sh.Tip().Turn, direction, 1e-3)
			})
		}
	}
}

func TestImproperLoads(t *testing.T) {
	s := beam.NewSolver(uniform(t, 1, 10))
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		name string
		load beam.Load
		want string
	}{
		{"force not a number", beam.Load{Force: nan}, "finite"},
		{"infinite force", beam.Load{Force: inf}, "finite"},
		{"direction not a number", beam.Load{Direction: nan}, "finite"},
		{"infinite offset", beam.Load{Offset: -inf}, "finite"},
		{"negative force", beam.Load{Force: -1}, "must not be negative"},
		{"direction over half a turn", beam.Load{Direction: 4}, "within 180°"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := s.Bend(c.load); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error is %v, want one with %q", err, c.want)
			}
		})
	}
	for name, find := range map[string]func(beam.Load, float64) (*beam.Shape, error){"turn": s.BendToTurn, "drop": s.BendToDrop} {
		for _, value := range []float64{nan, inf} {
			if _, err := find(beam.Load{Direction: 1}, value); err == nil {
				t.Errorf("a %s of %g is taken", name, value)
			}
		}
		if _, err := find(beam.Load{Direction: 4}, 0.1); err == nil {
			t.Errorf("a %s in a direction over half a turn is taken", name)
		}
	}
	// After all this the solver is as good as new.
	within(t, "turn", bent(t)(s.Bend(beam.Load{Force: 1, Direction: math.Pi / 2})).Tip().Turn, .46135195, 1e-6)
}
