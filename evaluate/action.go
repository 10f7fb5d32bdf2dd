package evaluate

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"rodlore/evaluate/beam"
)

// actionPlaces is how many places of the free length an action is read at: a change
// from one to the next is far below what anybody sees.
const actionPlaces = 20

// Action is the shape that a rod bends to, whatever its power: how far it has turned
// at equal steps from the hold to the tip, when a weight hung from the tip lowers
// that by a third of the free length. Its own weight is left out, for that does not
// grow with the power.
type Action struct {
	Load   Part    // that weight, N
	Turns  []Part  // rad, the tip last
	Inputs []Input // that the parts follow
}

// Action works out the action of the rod, and how it follows what the rod is built
// to only so well.
func (on *Rod) Action(ctx context.Context) (*Action, error) {
	m, err := on.mesh()
	if err != nil {
		return nil, err
	}
	fine, _, err := actionOn(m.fine, nil)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", on.spec.Name, unfound(err, on.set.Display()))
	}
	mesh, err := m.lumped(nil)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", on.spec.Name, err)
	}
	base, bent, err := actionOn(mesh.Rod, nil)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", on.spec.Name, unfound(err, on.set.Display()))
	}
	inputs := slices.DeleteFunc(inputsOf(on.spec, on.set), func(in perturbation) bool {
		return in.weightsOnly || in.ID.Kind == MassInput || in.ID.Kind == DensityInput
	})
	parts := make([]Part, len(fine))
	for k, v := range fine {
		parts[k] = Part{Value: v, Minus: make([]float64, len(inputs)), Plus: make([]float64, len(inputs))}
	}
	b := newBuild(on.spec)
	read := func(b *build) ([]float64, error) {
		r, err := assembleLike(m.rod, on.spec, on.set, b)
		if err != nil {
			return nil, err
		}
		like, err := r.lumped(mesh)
		if err != nil {
			return nil, err
		}
		values, _, err := actionOn(like.Rod, bent)
		return values, err
	}
	for i, in := range inputs {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		minus, plus, err := bothWays(in, b, aside, read)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", on.spec.Name, err)
		}
		for k := range parts {
			parts[k].Minus[i], parts[k].Plus[i] = (minus[k]-base[k])/aside, (plus[k]-base[k])/aside
		}
	}
	return &Action{Load: parts[0], Turns: parts[1:], Inputs: exported(inputs)}, nil
}

// actionOn is the load and the turns of a rod of the kernel, and its bend.
func actionOn(b *beam.Rod, from *beam.Shape) ([]float64, *beam.Shape, error) {
	solver := beam.NewSolver(b)
	if from != nil {
		solver.StartFrom(from)
	}
	sh, err := solver.BendToDrop(beam.Load{Direction: math.Pi / 2}, b.Length()/3)
	if err != nil {
		return nil, nil, err
	}
	values := []float64{sh.Load.Force}
	for k := range actionPlaces {
		values = append(values, sh.At(b.Length()*float64(k+1)/actionPlaces).Turn)
	}
	return values, sh, nil
}

// Actions are those of two rods beside each other.
type Actions struct {
	Apart     float64 // rad: the most that their turns differ in one place, from spec to spec
	Low, High float64 // rad: so few pairs of rods differ by less and by more, Few of them
	// Power is how many times as much load the second takes to bend as the first,
	// and Tolerance one standard deviation of that in pairs of rods.
	Power, Tolerance float64
}

// CompareActions holds two actions against each other, in pairs of rods that share
// what the specs have in common.
func CompareActions(old, now *Action) Actions {
	a := Actions{Power: now.Load.Value / old.Load.Value}
	before, after := newDraws(old.Inputs, spreadSamples), newDraws(now.Inputs, spreadSamples)
	each := func(x, y Part, see func(i int, x, y float64)) {
		thereX, backX := responseOf(x, false).sampled(before)
		thereY, backY := responseOf(y, false).sampled(after)
		for i := range thereX {
			see(2*i, thereX[i], thereY[i])
			see(2*i+1, backX[i], backY[i])
		}
	}
	n := 2 * before.pairs
	apart, power := make([]float64, n), make([]float64, n)
	for k, turn := range old.Turns {
		a.Apart = max(a.Apart, math.Abs(now.Turns[k].Value-turn.Value))
		each(turn, now.Turns[k], func(i int, x, y float64) { apart[i] = max(apart[i], math.Abs(y-x)) })
	}
	each(old.Load, now.Load, func(i int, x, y float64) { power[i] = y / x })
	a.Tolerance = stat.StdDev(power, nil)
	slices.Sort(apart)
	a.Low, a.High = stat.Quantile(Few, stat.Empirical, apart, nil), stat.Quantile(1-Few, stat.Empirical, apart, nil)
	return a
}
