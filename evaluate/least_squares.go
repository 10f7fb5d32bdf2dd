package evaluate

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// atLeast is a linear inequality: the sum of the coefficients times the
// unknowns is no less than the bound.
type atLeast struct {
	row   []float64
	bound float64
}

// value is the left side of the inequality.
func (c atLeast) value(x []float64) float64 {
	sum := 0.0
	for i, a := range c.row {
		sum += a * x[i]
	}
	return sum
}

var errIncompatible = errors.New("the limits exclude each other")

// leastSquares finds the x that makes ½xᵀHx + gᵀx smallest under limits, H being
// positive definite, and the multiplier of each: above 0 where it holds x back.
// It is errIncompatible where no x keeps to them all.
//
// With H = LLᵀ and x = L⁻ᵀy − H⁻¹g it is the search for the shortest y under
// limits (Lawson and Hanson 1974, Solving Least Squares Problems, chapter 23,
// LSI to LDP).
func leastSquares(h *mat.SymDense, g *mat.VecDense, limits []atLeast) (x, multipliers []float64, err error) {
	var chol mat.Cholesky
	if !chol.Factorize(h) {
		return nil, nil, errors.New("the curvature is not positive")
	}
	n := g.Len()
	free := mat.NewVecDense(n, nil) // the x without limits
	if err := chol.SolveVecTo(free, g); err != nil {
		return nil, nil, err
	}
	free.ScaleVec(-1, free)
	if len(limits) == 0 {
		return free.RawVector().Data, nil, nil
	}
	var l mat.TriDense
	chol.LTo(&l)
	sides := mat.NewDense(n+1, len(limits), nil)
	for j, c := range limits {
		row := mat.NewVecDense(n, slices.Clone(c.row))
		if err := row.SolveVec(&l, row); err != nil {
			return nil, nil, err
		}
		sides.Slice(0, n, j, j+1).(*mat.Dense).Copy(row)
		sides.Set(n, j, c.bound-c.value(free.RawVector().Data))
	}
	y, multipliers, err := shortest(sides)
	if err != nil {
		return nil, nil, err
	}
	if err := y.SolveVec(l.T(), y); err != nil {
		return nil, nil, err
	}
	y.AddVec(y, free)
	return y.RawVector().Data, multipliers, nil
}

// shortest finds the shortest y whose products with the columns, but for their
// last entries, are no less than these, and the multipliers of the columns. It is
// least squares of no negative entry (the same, LDP 23.27).
func shortest(columns *mat.Dense) (y *mat.VecDense, multipliers []float64, err error) {
	rows, _ := columns.Dims()
	last := mat.NewVecDense(rows, nil)
	last.SetVec(rows-1, 1)
	u, err := nonNegative(columns, last)
	if err != nil {
		return nil, nil, err
	}
	rest := mat.NewVecDense(rows, nil)
	rest.MulVec(columns, mat.NewVecDense(len(u), u))
	rest.SubVec(last, rest)
	const none = 1e-12
	scale := rest.AtVec(rows - 1)
	if scale < none {
		return nil, nil, errIncompatible
	}
	for j := range u {
		u[j] /= scale
	}
	y = mat.NewVecDense(rows-1, nil)
	y.ScaleVec(-1/scale, rest.SliceVec(0, rows-1))
	return y, u, nil
}

// nonNegative finds the u of no negative entry that makes ‖Eu − f‖ smallest, by
// the active sets of Lawson and Hanson (1974, algorithm NNLS 23.10).
func nonNegative(e *mat.Dense, f *mat.VecDense) ([]float64, error) {
	rows, n := e.Dims()
	u, in, barred := make([]float64, n), make([]bool, n), make([]bool, n)
	rest := mat.NewVecDense(rows, nil)
	for range 10 * (n + 1) {
		rest.MulVec(e, mat.NewVecDense(n, u))
		rest.SubVec(f, rest)
		enter, best := -1, 1e-10
		for j := range n {
			if w := mat.Dot(e.ColView(j), rest) / mat.Norm(e.ColView(j), 2); !in[j] && !barred[j] && w > best {
				enter, best = j, w
			}
		}
		if enter < 0 {
			return u, nil
		}
		in[enter] = true
		if err := settle(e, f, u, in); err != nil {
			in[enter], barred[enter] = false, true // it is a sum of those that are in
			continue
		}
		clear(barred)
	}
	return nil, errors.New("the search for the limits that hold did not end")
}

// settle moves u to the least squares of the columns that are in, and puts out
// those that would go below nothing on the way.
func settle(e *mat.Dense, f *mat.VecDense, u []float64, in []bool) error {
	for {
		z, err := solveColumns(e, f, in)
		if err != nil {
			return err
		}
		share := 1.0
		for j := range u {
			if in[j] && z[j] <= 0 {
				share = math.Min(share, u[j]/(u[j]-z[j]))
			}
		}
		for j := range u {
			if in[j] {
				u[j] += share * (z[j] - u[j])
			}
		}
		if share == 1 {
			return nil
		}
		for j := range u {
			if in[j] && u[j] <= 1e-14 {
				u[j], in[j] = 0, false
			}
		}
	}
}

// solveColumns is the plain least squares of the columns that are in.
func solveColumns(e *mat.Dense, f *mat.VecDense, in []bool) ([]float64, error) {
	rows, n := e.Dims()
	var columns []int
	for j := range n {
		if in[j] {
			columns = append(columns, j)
		}
	}
	part := mat.NewDense(rows, len(columns), nil)
	for k, j := range columns {
		part.SetCol(k, mat.Col(nil, j, e))
	}
	var z mat.VecDense
	if err := z.SolveVec(part, f); err != nil {
		return nil, err
	}
	out := make([]float64, n)
	for k, j := range columns {
		out[j] = z.AtVec(k)
	}
	return out, nil
}
