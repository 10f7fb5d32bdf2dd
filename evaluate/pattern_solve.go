package evaluate

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// evenest are the most even places that were found under some limits.
type evenest struct {
	misfit
	at      []float64
	sides   []side
	holding []limit // those that hold a ring back
}

// share moves the rings along the bent rod, as it is, to where they share the
// turn of the line.
func (l *layout) share(sides []side) error {
	best, err := l.search(sides)
	if errors.Is(err, errIncompatible) {
		return errors.New("they do not fit between tip and butt ring with their whippings apart, clear of joints and no spacing shorter than the one above")
	}
	if err != nil {
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
	if errAbove != nil || errBelow == nil && below.value < above.value {
		return below, errBelow
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
		return nil, err
	}
	e := &evenest{misfit: l.misfitAt(at), at: at, sides: sides}
	for range mostMoves {
		step, multipliers, err := leastSquares(e.curve, e.slope, limitsFrom(limits, e.at))
		if err != nil {
			return nil, err
		}
		e.hold(limits, multipliers)
		if l.move(e, step) < smallestMove {
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

// move takes the step, or as much of it as makes the places more even, and
// gives the longest way that a ring went.
func (l *layout) move(e *evenest, step []float64) float64 {
	for part := 1.0; part > math.Exp2(-mostShorter); part /= 2 {
		at, size := slices.Clone(e.at), 0.0
		for i, d := range step {
			at[i] += part * d
			size = max(size, math.Abs(part*d))
		}
		if u := l.misfitAt(at); u.value <= e.value {
			e.at, e.misfit = at, u
			return size
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
	step, _, err := leastSquares(one, mat.NewVecDense(n, nil), limitsFrom(limits, at))
	if err != nil {
		return nil, err
	}
	at = slices.Clone(at)
	for i, d := range step {
		at[i] += d
	}
	return at, nil
}

// limitsFrom are the limits to a step away from the places given.
func limitsFrom(limits []limit, at []float64) []atLeast {
	out := make([]atLeast, len(limits))
	for i, c := range limits {
		out[i] = atLeast{c.row, c.bound - c.value(at[:len(at)-1])}
	}
	return out
}
