package evaluate

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// residuals are what is to be made small at x. An error says that there are none
// there.
type residuals func(x []float64) ([]float64, error)

// minimum is where the sum of squares is smallest.
type minimum struct {
	x         []float64
	residuals []float64
	jacobian  *mat.Dense // of the residuals by x
	rounds    int
}

// squares is the sum of the squared residuals.
func (m *minimum) squares() float64 { return sumOfSquares(m.residuals) }

// covariance is (JᵀJ)⁻¹: of x where the residuals scatter by one. The columns are
// brought to one length first, as unknowns may be of very different sizes.
func (m *minimum) covariance() (*mat.SymDense, error) {
	n := len(m.x)
	lengths, unit := make([]float64, n), mat.DenseCopyOf(m.jacobian)
	for k := range n {
		lengths[k] = mat.Norm(m.jacobian.ColView(k), 2)
		unit.ColView(k).(*mat.VecDense).ScaleVec(1/lengths[k], m.jacobian.ColView(k))
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

// levenbergMarquardt finds the x near x0 at which the sum of the squared
// residuals is smallest. step is how far to either side of x[j] the derivative
// by it is taken; enough is the share of the squares that a step must promise to
// take away to be worth it.
//
// A step p solves (JᵀJ + λD²)p = −Jᵀr, D being the largest lengths of the
// columns so far (Levenberg 1944, Quarterly of Applied Mathematics 2:164;
// Marquardt 1963, SIAM J. Appl. Math. 11:431; scaling: Moré 1978, Lecture Notes
// in Mathematics 630:105). It is found from the least squares of J above √λD,
// without the squares (Nocedal and Wright 2006, Numerical Optimization, section
// 10.3). λ follows how well J foretold the gain (Nielsen 1999, Damping parameter
// in Marquardt's method, section 3). All cited from memory.
func levenbergMarquardt(f residuals, x0 []float64, step func(j int, x float64) float64, enough float64) (*minimum, error) {
	at := &minimum{x: append([]float64{}, x0...)}
	var err error
	if at.residuals, err = f(at.x); err != nil {
		return nil, err
	}
	scale := make([]float64, len(x0))
	damping, grow := firstDamping, 2.0
	for ; at.rounds < mostSearch; at.rounds++ {
		if at.jacobian, err = differentiate(f, at, step); err != nil {
			return nil, err
		}
		if rescale(scale, at.jacobian); at.flat() {
			return at, nil
		}
		for {
			p := dampedStep(at, scale, damping)
			promised := at.foretold(p)
			if small(p, at.x) || promised < enough*at.squares() || damping > mostDamping {
				return at, nil
			}
			if next := at.try(f, p); next != nil {
				gain := (at.squares() - next.squares()) / promised
				damping, grow = damping*math.Max(1./3, 1-math.Pow(2*gain-1, 3)), 2
				next.rounds = at.rounds
				at = next
				break
			}
			damping *= grow
			grow *= 2
		}
	}
	return nil, errors.New("the search for the smallest squares did not end")
}

// differentiate takes central differences (Abramowitz and Stegun 1964, 25.3.21).
func differentiate(f residuals, at *minimum, step func(int, float64) float64) (*mat.Dense, error) {
	j := mat.NewDense(len(at.residuals), len(at.x), nil)
	x := append([]float64{}, at.x...)
	for k := range x {
		h := step(k, at.x[k])
		x[k] = at.x[k] + h
		plus, err := f(x)
		if err != nil {
			return nil, err
		}
		x[k] = at.x[k] - h
		minus, err := f(x)
		if err != nil {
			return nil, err
		}
		x[k] = at.x[k]
		for i := range plus {
			j.Set(i, k, (plus[i]-minus[i])/(2*h))
		}
	}
	return j, nil
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
func (m *minimum) flat() bool {
	r := mat.NewVecDense(len(m.residuals), m.residuals)
	length := mat.Norm(r, 2)
	for k := range m.x {
		column := m.jacobian.ColView(k)
		if math.Abs(mat.Dot(column, r)) > stillGradient*length*mat.Norm(column, 2) {
			return false
		}
	}
	return true
}

// dampedStep is the step for a damping.
func dampedStep(at *minimum, scale []float64, damping float64) []float64 {
	m, n := at.jacobian.Dims()
	a, b := mat.NewDense(m+n, n, nil), mat.NewVecDense(m+n, nil)
	a.Slice(0, m, 0, n).(*mat.Dense).Copy(at.jacobian)
	for k := range n {
		a.Set(m+k, k, math.Sqrt(damping)*scale[k])
	}
	for i, r := range at.residuals {
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
func (m *minimum) foretold(p []float64) float64 {
	var moved mat.VecDense
	moved.MulVec(m.jacobian, mat.NewVecDense(len(p), p))
	left := 0.0
	for i, r := range m.residuals {
		left += (r + moved.AtVec(i)) * (r + moved.AtVec(i))
	}
	return math.Max(m.squares()-left, math.SmallestNonzeroFloat64)
}

// try makes a step; nil where it gains nothing.
func (m *minimum) try(r residuals, p []float64) *minimum {
	next := &minimum{x: make([]float64, len(p))}
	for k := range p {
		next.x[k] = m.x[k] + p[k]
	}
	var err error
	next.residuals, err = r(next.x)
	if err != nil || !(next.squares() < m.squares()) {
		return nil
	}
	return next
}

// small reports whether a step is next to nothing.
func small(p, x []float64) bool {
	return math.Sqrt(sumOfSquares(p)) <= stillStep*(math.Sqrt(sumOfSquares(x))+stillStep)
}

func sumOfSquares(v []float64) float64 {
	sum := 0.0
	for _, e := range v {
		sum += e * e
	}
	return sum
}
