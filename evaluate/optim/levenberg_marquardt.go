package optim

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// Residuals are what is to be made small at x. An error says that there are none
// there.
type Residuals func(x []float64) ([]float64, error)

// Minimum is where the sum of squares is smallest.
type Minimum struct {
	X         []float64
	Residuals []float64
	Jacobian  *mat.Dense // of the residuals by x
}

// Squares is the sum of the squared residuals.
func (m *Minimum) Squares() float64 { return floats.Dot(m.Residuals, m.Residuals) }

// Covariance is (JᵀJ)⁻¹: of x where the residuals scatter by one. The columns are
// brought to one length first, as unknowns may be of very different sizes.
func (m *Minimum) Covariance() (*mat.SymDense, error) {
	n := len(m.X)
	lengths, unit := make([]float64, n), mat.DenseCopyOf(m.Jacobian)
	for k := range n {
		lengths[k] = mat.Norm(m.Jacobian.ColView(k), 2)
		unit.ColView(k).(*mat.VecDense).ScaleVec(1/lengths[k], m.Jacobian.ColView(k))
	}
	square := mat.NewSymDense(n, nil)
	square.SymOuterK(1, unit.T())
	var chol mat.Cholesky
	if !chol.Factorize(square) {
		return nil, errors.New("the measurements do not tell the unknowns apart")
	}
	var c mat.SymDense
	if err := chol.InverseTo(&c); err != nil {
		return nil, err
	}
	for a := range n {
		for b := a; b < n; b++ {
			c.SetSym(a, b, c.At(a, b)/lengths[a]/lengths[b])
		}
	}
	return &c, nil
}

const (
	mostSearch   = 1000 // rounds
	firstDamping = 1e-3
	mostDamping  = 1e16
	// At a smallest sum of squares the residuals stand square to every column
	// of the Jacobian, and a step changes nothing; both as shares.
	stillGradient = 1e-11
	stillStep     = 1e-12
)

// LevenbergMarquardt finds the x near x0 at which the sum of the squared
// residuals is smallest. step is how far to either side of x derivatives are taken,
// so that its numbers should be of one size; enough is the share of the squares that a step must promise to
// take away to be worth it.
//
// A step p solves (JᵀJ + λD²)p = −Jᵀr, D being the largest lengths of the
// columns so far (Levenberg 1944, Quarterly of Applied Mathematics 2:164;
// Marquardt 1963, SIAM J. Appl. Math. 11:431; scaling: Moré 1978, Lecture Notes
// in Mathematics 630:105). It is found from the least squares of J above √λD,
// without the squares (Nocedal and Wright 2006, Numerical Optimization, section
// 10.3). λ follows how well J foretold the gain (Nielsen 1999, Damping parameter
// in Marquardt's method, section 3). All cited from memory.
func LevenbergMarquardt(f Residuals, x0 []float64, step, enough float64) (*Minimum, error) {
	at := &Minimum{X: slices.Clone(x0)}
	var err error
	if at.Residuals, err = f(at.X); err != nil {
		return nil, err
	}
	scale := make([]float64, len(x0))
	damping, grow := firstDamping, 2.0
	for range mostSearch {
		if at.Jacobian, err = Jacobian(f, at.X, len(at.Residuals), step); err != nil {
			return nil, err
		}
		if rescale(scale, at.Jacobian); at.flat() {
			return at, nil
		}
		for {
			p := dampedStep(at, scale, damping)
			promised := at.foretold(p)
			if small(p, at.X) || promised < enough*at.Squares() || damping > mostDamping {
				return at, nil
			}
			if next := at.try(f, p); next != nil {
				gain := (at.Squares() - next.Squares()) / promised
				damping, grow = damping*math.Max(1./3, 1-math.Pow(2*gain-1, 3)), 2
				at = next
				break
			}
			damping *= grow
			grow *= 2
		}
	}
	return nil, errors.New("the search for the smallest squares did not end")
}

// Jacobian is that of m residuals at x by central differences (Abramowitz and Stegun
// 1964, 25.3.21), which are taken step to either side of x.
func Jacobian(f Residuals, x []float64, m int, step float64) (*mat.Dense, error) {
	jacobian, failed := mat.NewDense(m, len(x), nil), error(nil)
	fd.Jacobian(jacobian, func(residuals, x []float64) {
		if failed == nil {
			var values []float64
			values, failed = f(x)
			copy(residuals, values)
		}
	}, x, &fd.JacobianSettings{Formula: fd.Central, Step: step})
	return jacobian, failed
}

// rescale keeps the largest length of every column.
func rescale(scale []float64, j *mat.Dense) {
	for k := range scale {
		scale[k] = math.Max(scale[k], mat.Norm(j.ColView(k), 2))
		if scale[k] == 0 {
			scale[k] = 1 // nothing hangs on it yet
		}
	}
}

// flat reports whether the residuals stand square to the Jacobian.
func (m *Minimum) flat() bool {
	r := mat.NewVecDense(len(m.Residuals), m.Residuals)
	length := mat.Norm(r, 2)
	for k := range m.X {
		column := m.Jacobian.ColView(k)
		if math.Abs(mat.Dot(column, r)) > stillGradient*length*mat.Norm(column, 2) {
			return false
		}
	}
	return true
}

// dampedStep is the step for a damping.
func dampedStep(at *Minimum, scale []float64, damping float64) []float64 {
	m, n := at.Jacobian.Dims()
	a, b := mat.NewDense(m+n, n, nil), mat.NewVecDense(m+n, nil)
	a.Slice(0, m, 0, n).(*mat.Dense).Copy(at.Jacobian)
	for k := range n {
		a.Set(m+k, k, math.Sqrt(damping)*scale[k])
	}
	for i, r := range at.Residuals {
		b.SetVec(i, -r)
	}
	var qr mat.QR
	qr.Factorize(a)
	p := mat.NewVecDense(n, nil)
	// An ill-conditioned system still gives a step, which is judged by what it
	// gains.
	_ = qr.SolveVecTo(p, false, b)
	return p.RawVector().Data
}

// foretold is the gain in squares that the Jacobian promises for a step.
func (m *Minimum) foretold(p []float64) float64 {
	var left mat.VecDense
	left.MulVec(m.Jacobian, mat.NewVecDense(len(p), p))
	left.AddVec(&left, mat.NewVecDense(len(m.Residuals), m.Residuals))
	return math.Max(m.Squares()-mat.Dot(&left, &left), math.SmallestNonzeroFloat64)
}

// try makes a step; nil where it gains nothing.
func (m *Minimum) try(r Residuals, p []float64) *Minimum {
	next := &Minimum{X: slices.Clone(m.X)}
	floats.Add(next.X, p)
	var err error
	next.Residuals, err = r(next.X)
	if err != nil || !(next.Squares() < m.Squares()) {
		return nil
	}
	return next
}

// small reports whether a step is next to nothing.
func small(p, x []float64) bool {
	return floats.Norm(p, 2) <= stillStep*(floats.Norm(x, 2)+stillStep)
}
