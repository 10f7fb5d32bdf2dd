package evaluate

import (
	"context"
	"errors"
	"fmt"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"rodlore/evaluate/figures"
	"rodlore/evaluate/optim"
	"rodlore/models"
)

// Fit is what measurements tell of the rod they were made on.
type Fit struct {
	Readings     []FittedReading
	Parameters   []Parameter
	Correlations []Correlation // of the parameters, the strongest first

	// Squares is how far the readings lie off what spec and tolerances let
	// expect, squared and added up in standard deviations. Of a rod that is
	// within its tolerances it scatters about the number of readings; Chance is
	// how often it would be as large or larger.
	Squares, Chance float64
	// Threshold is how many standard deviations off a reading must lie to
	// disagree: one sheet in twenty has such a one by chance.
	Threshold float64

	// For is the figure that Next would make more certain, and Know the standard
	// deviation that it is known to of this rod.
	For, ForUnit string
	Know         float64
	Next         []Next // the most helpful first

	// alone is the covariance of the parameters where all else is as the spec says, which
	// is how figures are worked out with them: then they stand for the rest too, and
	// the readings leave less open than of each by itself.
	alone *mat.SymDense
}

// FittedReading is a reading with what was expected of it.
type FittedReading struct {
	Reading
	Before, After float64 // by the spec, and with the parameters as fitted
	// Off is how far it lies off Rest, what all the others let expect, in standard
	// deviations of that.
	Off, Rest float64
	Disagrees bool
}

// Correlation is that of two parameters, by their indices.
type Correlation struct {
	A     int     `json:"a"`
	B     int     `json:"b"`
	Value float64 `json:"value"`
}

// FitOptions are what a fit may be told.
type FitOptions struct {
	Free []Free // none means all of them
	For  string // key of the figure to make more certain; "" means third-load
}

// FitRod finds by how much a rod differs from its spec. The spec's own fit is
// left out of it.
//
// It makes ∑(x/σ)² + (y−f)ᵀV⁻¹(y−f) smallest, x being the parameters and σ their
// tolerances, y the readings and f what they come to on a rod that has the x. V
// is their covariance: the readings' own, and that of all other inputs with
// their tolerances, which move several readings at once (generalised least
// squares, Aitken 1935, Proc. Roy. Soc. Edinburgh 55:42; tolerances as prior
// knowledge: Tarantola 2005, Inverse Problem Theory, section 3.2; from memory).
func FitRod(ctx context.Context, s *models.Spec, set *models.Settings, readings []Reading, o FitOptions) (*Fit, error) {
	if len(readings) == 0 {
		return nil, errors.New("nothing was measured; give at least a weight and a drop")
	}
	if len(o.Free) == 0 {
		o.Free = Frees
	}
	if o.For == "" {
		o.For = "third-load"
	}
	if figures.Of(o.For).Exact {
		return nil, fmt.Errorf("%s is counted and not measured; ask for another figure", o.For)
	}
	s = s.Unfitted()
	f := &fitting{bench: bench{spec: s, set: set, readings: readings}, parameters: parametersOf(s, set, o.Free)}
	if len(f.parameters) == 0 {
		return nil, fmt.Errorf("%s: nothing of it may be fitted: what is free has no tolerance", s.Name)
	}
	f.others = others(s, set, f.parameters)
	at, err := f.solve(ctx)
	if err != nil {
		return nil, err
	}
	return f.result(at, o.For)
}

// solve finds the most probable parameters.
func (f *fitting) solve(ctx context.Context) (*optim.Minimum, error) {
	if err := f.expect(); err != nil {
		return nil, err
	}
	residuals := func(x []float64) ([]float64, error) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		return f.residuals(x)
	}
	at, err := optim.LevenbergMarquardt(residuals, make([]float64, len(f.parameters)), fitStep, fitEnough)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", f.spec.Name, err)
	}
	return at, nil
}

// fitStep is how far to either side derivatives are taken, in tolerances: over a
// stretch that is short of all of it and long beside the solvers' errors.
const fitStep = 0.1

// fitEnough is the share of the squares for which a further step is not worth
// it: it would move a parameter by hundredths of its deviation.
const fitEnough = 1e-5

// fitting is a fit under way. Parameters are counted in their tolerances.
type fitting struct {
	bench
	parameters []Parameter
	others     []perturbation
	raw        bool // of a bare bought blank, of which nothing was found yet

	before     []float64     // the readings by the spec
	scatter    *mat.Dense    // readings by others: what one deviation does
	covariance *mat.SymDense // of the readings, with the scatter of the others
	root       mat.TriDense  // L, covariance being LLᵀ
}

// asSpecified is the rod exactly as its spec says.
func (f *fitting) asSpecified() *build {
	b := newBuild(f.spec)
	b.raw = f.raw
	return b
}

// came is the rod that has those parameters.
func (f *fitting) came(x []float64) *build {
	b := f.asSpecified()
	for k, u := range f.parameters {
		u.set(b, x[k]*u.Before)
	}
	return b
}

// expect works out what the spec and its tolerances let expect.
func (f *fitting) expect() (err error) {
	if f.before, err = f.read(f.asSpecified()); err != nil {
		return err
	}
	if f.scatter, err = f.probeOthers(f.read, len(f.readings)); err != nil {
		return err
	}
	f.covariance = mat.NewSymDense(len(f.readings), nil)
	f.covariance.SymOuterK(1, f.scatter)
	for i, r := range f.readings {
		f.covariance.SetSym(i, i, f.covariance.At(i, i)+r.Deviation*r.Deviation)
	}
	var chol mat.Cholesky
	if !chol.Factorize(f.covariance) {
		return errors.New("the readings are too certain to weigh against each other; give them larger deviations")
	}
	chol.LTo(&f.root)
	return nil
}

// probeOthers gives what one deviation of each of the other inputs does to the
// n numbers that read reads.
func (f *fitting) probeOthers(read func(*build) ([]float64, error), n int) (*mat.Dense, error) {
	effects := mat.NewDense(n, max(1, len(f.others)), nil)
	for j, in := range f.others {
		minus, plus, err := bothWays(in, f.asSpecified(), 1, read)
		if err != nil {
			return nil, err
		}
		for i := range plus {
			effects.Set(i, j, (plus[i]-minus[i])/2)
		}
	}
	return effects, nil
}

// residuals are those of the readings, brought to a scatter of one each and
// none with another, and the parameters themselves.
func (f *fitting) residuals(x []float64) ([]float64, error) {
	values, err := f.read(f.came(x))
	if err != nil {
		return nil, err
	}
	n := len(values)
	off := mat.NewVecDense(n, nil)
	for i, v := range values {
		off.SetVec(i, v-f.readings[i].Value)
	}
	if err := off.SolveVec(&f.root, off); err != nil {
		return nil, err
	}
	return append(off.RawVector().Data, x...), nil
}

// result tells what was found.
func (f *fitting) result(at *optim.Minimum, figure string) (*Fit, error) {
	after, err := f.read(f.came(at.X))
	if err != nil {
		return nil, err
	}
	c, err := at.Covariance()
	if err != nil {
		return nil, err
	}
	n := len(f.readings)
	fit := &Fit{Squares: at.Squares(), Threshold: FarthestOff(n), For: figure, ForUnit: figures.Of(figure).Unit}
	if fit.alone, err = f.posterior(f.moves(at)); err != nil {
		return nil, err
	}
	fit.Chance = distuv.ChiSquared{K: float64(n)}.Survival(fit.Squares)
	for k, u := range f.parameters {
		fit.Parameters = append(fit.Parameters, u.found(at.X[k], deviationAt(c, k)))
	}
	fit.Correlations = correlations(c)
	for i, r := range f.readings {
		fit.Readings = append(fit.Readings, FittedReading{Reading: r, Before: f.before[i], After: after[i]})
	}
	f.judge(fit, at)
	return fit, f.lookAhead(fit, at)
}
