package evaluate

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"rodlore/evaluate/optim"
)

// evenest are the most even places that were found under some limits.
type evenest struct {
	objective
	at      []float64
	sides   []side
	holding []limit // those that hold a ring back
}

// share moves the rings along the bent rod, as it is, to where they share the
// turn of the line.
func (l *layout) share(sides []side) error {
	best, err := l.search(sides)
	if err != nil {
		var e *crampedError
		if errors.As(err, &e) {
			return l.tellCramped(e)
		}
		return err
	}
	l.at, l.sides, l.holding = best.at, best.sides, best.holding
	return nil
}

// search finds the most even places with rings kept to those sides of joints.
// Where another ring then stands on a joint it tries both of its sides.
func (l *layout) search(sides []side) (*evenest, error) {
	found, err := l.descend(sides)
	if err != nil {
		return nil, err
	}
	ring, joint := l.onJoint(found.at)
	if ring < 0 {
		return found, nil
	}
	above, errAbove := l.search(append(slices.Clone(sides), side{ring, joint, towardsTip}))
	below, errBelow := l.search(append(slices.Clone(sides), side{ring, joint, towardsButt}))
	switch {
	case errAbove != nil && errBelow != nil:
		return nil, both(errAbove, errBelow)
	case errAbove != nil || errBelow == nil && below.value < above.value:
		return below, nil
	}
	return above, nil
}

const (
	// mostMoves of all rings on one bend, as many halvings of one that makes
	// things worse, and the least of them, m, to go on for.
	mostMoves    = 40
	mostShorter  = 8
	smallestMove = 1e-5
)

// descend goes down in unevenness from where the rings stand, by Newton's steps
// under the limits.
func (l *layout) descend(sides []side) (*evenest, error) {
	limits := l.limits(sides)
	at, err := nearest(l.at, limits)
	if err != nil {
		return nil, cramped(err, limits)
	}
	e := &evenest{objective: l.objectiveAt(at), at: at, sides: sides}
	for range mostMoves {
		to, multipliers, err := leastFrom(e.at, e.curve, e.slope, limits)
		if err != nil {
			return nil, err
		}
		e.hold(limits, multipliers)
		if l.move(e, to) < smallestMove {
			break
		}
	}
	return e, nil
}

// hold notes which limits hold a ring back.
func (e *evenest) hold(limits []limit, multipliers []float64) {
	e.holding = e.holding[:0]
	for i, m := range multipliers {
		if m > 0 {
			e.holding = append(e.holding, limits[i])
		}
	}
}

// move goes to the places given, or as far towards them as makes the rings more
// even, and gives the longest way that one went.
func (l *layout) move(e *evenest, to []float64) float64 {
	way := make([]float64, len(to))
	floats.SubTo(way, to, e.at)
	for part := 1.0; part > math.Exp2(-mostShorter); part /= 2 {
		at := make([]float64, len(to))
		floats.AddScaledTo(at, e.at, part, way)
		if u := l.objectiveAt(at); u.value <= e.value {
			e.at, e.objective = at, u
			return part * floats.Norm(way, math.Inf(1))
		}
	}
	return 0
}

// nearest are the places nearest to those given that keep to the limits.
func nearest(at []float64, limits []limit) ([]float64, error) {
	n := len(at) - 1
	one := mat.NewSymDense(n, nil)
	for i := range n {
		one.SetSym(i, i, 1)
	}
	moved, _, err := leastFrom(at, one, mat.NewVecDense(n, nil), limits)
	return moved, err
}

// leastFrom finds where the quadratic function of that curvature, and of that
// slope at the places given, is smallest under the limits. Its unknowns are
// the places and no steps, so that rounding is small against them.
func leastFrom(at []float64, curve *mat.SymDense, slope *mat.VecDense, limits []limit) (moved, multipliers []float64, err error) {
	last := len(at) - 1
	var linear mat.VecDense
	linear.MulVec(curve, mat.NewVecDense(last, slices.Clone(at[:last])))
	linear.SubVec(slope, &linear)
	inequalities := make([]optim.AtLeast, len(limits))
	for i, c := range limits {
		inequalities[i] = c.AtLeast
	}
	moved, multipliers, err = optim.Quadratic(curve, &linear, inequalities)
	if err != nil {
		return nil, nil, err
	}
	return append(moved, at[last]), multipliers, nil
}
