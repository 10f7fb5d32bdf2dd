package optim

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// AtLeast is a linear inequality: the sum of the coefficients times the
// unknowns is no less than the bound.
type AtLeast struct {
	Row   []float64
	Bound float64
}

// Value is the left side of the inequality.
func (c AtLeast) Value(x []float64) float64 { return floats.Dot(c.Row, x) }

// size is what the terms of the inequality come to without their signs, which
// rounding goes by.
func (c AtLeast) size(x []float64) float64 {
	sum := math.Abs(c.Bound)
	for i, a := range c.Row {
		sum += math.Abs(a * x[i])
	}
	return sum
}

// IncompatibleError says that no x keeps to all limits.
type IncompatibleError struct {
	// Conflict are the indices of limits that exclude each other: without any
	// one of them the others leave room.
	Conflict []int
}

func (e *IncompatibleError) Error() string {
	return fmt.Sprintf("the limits %v exclude each other", e.Conflict)
}

// Quadratic finds the x that makes ½xᵀHx + gᵀx smallest under limits, H being
// positive definite, and the multiplier of each: above 0 where it holds x back.
// The error is an *IncompatibleError where no x keeps to them all.
//
// It goes from the x without limits, which is too low, up through the smallest
// values under more and more of them: the dual method of Goldfarb and Idnani
// (1983, Mathematical Programming 27, 1–33; from memory). With H = LLᵀ and
// y = Lᵀx every one of them is the projection of one point. So it meets a
// contradiction as such: a limit that is broken and that those in force, none
// of which gives way, do not let it move towards.
func Quadratic(h *mat.SymDense, g *mat.VecDense, limits []AtLeast) (x, multipliers []float64, err error) {
	d := &dual{limits: limits, normals: make([]*mat.VecDense, len(limits)), u: make([]float64, len(limits))}
	var chol mat.Cholesky
	if !chol.Factorize(h) {
		return nil, nil, errors.New("the curvature is not positive")
	}
	chol.LTo(&d.l)
	d.x = mat.NewVecDense(g.Len(), nil)
	if err := chol.SolveVecTo(d.x, g); err != nil {
		return nil, nil, err
	}
	d.x.ScaleVec(-1, d.x)
	for j, c := range limits {
		d.normals[j] = mat.NewVecDense(g.Len(), slices.Clone(c.Row))
		if err := d.normals[j].SolveVec(&d.l, d.normals[j]); err != nil {
			return nil, nil, err
		}
	}
	for range 20 * (len(limits) + 1) {
		broken := d.worst()
		if broken < 0 {
			return d.x.RawVector().Data, d.u, nil
		}
		if err := d.meet(broken); err != nil {
			return nil, nil, err
		}
	}
	return nil, nil, errors.New("the search for the limits that hold did not end")
}

// dual is a search for the smallest value from below.
type dual struct {
	l       mat.TriDense
	limits  []AtLeast
	normals []*mat.VecDense // of the limits, in y
	x       *mat.VecDense
	u       []float64 // multipliers
	active  []int
}

// slack is how much is left of a limit, below 0 where it is broken.
func (d *dual) slack(j int) float64 {
	return d.limits[j].Value(d.x.RawVector().Data) - d.limits[j].Bound
}

// worst is the limit that is broken most; −1 where none is beyond rounding.
func (d *dual) worst() int {
	const rounding = 1e-11
	worst, most := -1, 0.0
	for j, c := range d.limits {
		length := mat.Norm(d.normals[j], 2)
		by := -d.slack(j)
		if by > rounding*c.size(d.x.RawVector().Data) && !slices.Contains(d.active, j) && by/length > most {
			worst, most = j, by/length
		}
	}
	return worst
}

// meet brings x to a broken limit and, on the way, puts aside those in force
// whose multipliers come down to 0.
func (d *dual) meet(broken int) error {
	for {
		way, shares, err := d.direction(broken)
		if err != nil {
			return err
		}
		step, leaving := math.Inf(1), -1
		for k, share := range shares {
			if left := d.u[d.active[k]] / share; share > 0 && left < step {
				step, leaving = left, k
			}
		}
		full := math.Inf(1)
		if way != nil {
			full = max(0, -d.slack(broken)/mat.Dot(way, d.normals[broken])) // it may be met by rounding already
		}
		if math.IsInf(step, 1) && math.IsInf(full, 1) {
			return d.conflict(broken, shares)
		}
		step = min(step, full)
		for k, share := range shares {
			d.u[d.active[k]] = max(0, d.u[d.active[k]]-step*share)
		}
		d.u[broken] += step
		if way != nil {
			if err := d.advance(way, step); err != nil {
				return err
			}
		}
		if step == full {
			d.active = append(d.active, broken)
			return nil
		}
		d.u[d.active[leaving]] = 0
		d.active = slices.Delete(d.active, leaving, leaving+1)
	}
}

// direction is the part of a limit's normal that stands square to those in
// force, nil where there is none, and the shares of these in the rest of it.
func (d *dual) direction(broken int) (way *mat.VecDense, shares []float64, err error) {
	normal := d.normals[broken]
	way = mat.VecDenseCopyOf(normal)
	if len(d.active) > 0 {
		in := mat.NewDense(normal.Len(), len(d.active), nil)
		for k, j := range d.active {
			in.SetCol(k, d.normals[j].RawVector().Data)
		}
		var r mat.VecDense
		if err := r.SolveVec(in, normal); err != nil {
			return nil, nil, err
		}
		shares = r.RawVector().Data
		var along mat.VecDense
		along.MulVec(in, &r)
		way.SubVec(way, &along)
	}
	const dependent = 1e-9
	if mat.Norm(way, 2) <= dependent*mat.Norm(normal, 2) {
		way = nil
	}
	return way, shares, nil
}

// advance moves x so far along a direction in y.
func (d *dual) advance(way *mat.VecDense, step float64) error {
	var by mat.VecDense
	if err := by.SolveVec(d.l.T(), way); err != nil {
		return err
	}
	d.x.AddScaledVec(d.x, step, &by)
	return nil
}

// conflict names the limits that keep a broken one from being met: its normal is
// made of theirs with shares below 0, so that theirs can only be met further
// away from it (Farkas' lemma).
func (d *dual) conflict(broken int, shares []float64) error {
	e := &IncompatibleError{Conflict: []int{broken}}
	for k, share := range shares {
		if share < -1e-9 {
			e.Conflict = append(e.Conflict, d.active[k])
		}
	}
	slices.Sort(e.Conflict)
	return e
}
