package evaluate

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/floats"

	"rodlore/evaluate/figures"
)

// gauge is the calibration of an end gauge by comparison with a standard of the
// same nominal length, JCGM 100:2008, Evaluation of measurement data: Guide to
// the expression of uncertainty in measurement, H.1, table H.1: lengths in nm.
// Its numbers stand in several public copies of the example, of which those of
// two metrology institutes' libraries were looked up.
var gauge = []struct{ value, deviation float64 }{
	{50.000623e6, 25}, // length of the standard
	{215, 9.7},        // difference measured
	{11.5e-6, 1.2e-6}, // expansion of the standard, 1/K
	{-0.1, 0.41},      // temperature beyond 20 °C, K
	{0, 0.58e-6},      // difference of the expansions, 1/K
	{0, 0.029},        // difference of the temperatures, K
}

// gaugeLength is equation H.2.
func gaugeLength(v []float64) float64 {
	standard, difference, expansion, temperature, dExpansion, dTemperature := v[0], v[1], v[2], v[3], v[4], v[5]
	return standard + difference - standard*(dExpansion*temperature+expansion*dTemperature)
}

// gaugePart is the length with each of the inputs off by a deviation.
func gaugePart() Part {
	return off(len(gauge), func(x []float64) float64 {
		at := make([]float64, len(gauge))
		for i, in := range gauge {
			at[i] = in.value + in.deviation*x[i]
		}
		return gaugeLength(at)
	})
}

// drawn are draws of n inputs.
func drawn(n, samples int) draws {
	inputs := make([]Input, n)
	for i := range inputs {
		inputs[i].ID = InputID{Item: strconv.Itoa(i)}
	}
	return newDraws(inputs, samples)
}

// propagated is the spread of a figure composed of parts; of its only part where
// of is nil.
func propagated(parts []Part, of func([]float64) float64) *Spread {
	s := &Spread{Parts: parts}
	draws := func() draws { return drawn(len(parts[0].Plus), spreadSamples) }
	if of == nil {
		s.propagate("", draws)
	} else {
		s.sample(differenced(of), draws())
	}
	return s
}

// differenced is a composition with slopes by central differences.
func differenced(of func([]float64) float64) figures.Composition {
	return func(parts, slopes []float64) float64 {
		for j, was := range parts {
			h := 1e-8 * floats.Norm(parts, math.Inf(1))
			parts[j] = was + h
			above := of(parts)
			parts[j] = was - h
			slopes[j] = (above - of(parts)) / (2 * h)
			parts[j] = was
		}
		return of(parts)
	}
}

// TestGaugeBlock reproduces the example's result, 50.000838 mm with a combined
// standard uncertainty of 32 nm (H.1.4 and H.1.5), and its components.
func TestGaugeBlock(t *testing.T) {
	p := gaugePart()
	near(t, "length", p.Value, 50.000838e6, 1e-8)
	s := propagated([]Part{p}, nil)
	if got := math.Round(s.tolerance()); got != 32 {
		t.Errorf("combined uncertainty is %.4g nm, want 32", s.tolerance())
	}
	for i, want := range []float64{25, 9.7, 0, 0, 2.9, 16.6} { // table H.1
		if got := math.Abs(s.Effects[i]); math.Abs(got-want) > 0.1 { // as printed, from rounded deviations
			t.Errorf("component %d is %.3g nm, want %g", i, got, want)
		}
	}
	if s.crooked() {
		t.Error("it is called crooked")
	}
}

// TestGaugeBlockToSecondOrder samples the example: two products of inputs raise
// the uncertainty from 32 to 34 nm (H.1.7, that value from memory). 1,000 samples
// give the products' part, 12 nm, to 3 %.
func TestGaugeBlockToSecondOrder(t *testing.T) {
	parts := make([]Part, len(gauge))
	for i, in := range gauge {
		parts[i] = off(len(gauge), func(x []float64) float64 { return in.value + in.deviation*x[i] })
	}
	s := propagated(parts, gaugeLength)
	if got := math.Round(s.tolerance()); got != 34 {
		t.Errorf("combined uncertainty is %.4g nm, want 34", s.tolerance())
	}
	if !s.crooked() {
		t.Error("it is not called crooked")
	}
}

// off is a function of normal deviates as a part.
func off(n int, f func(x []float64) float64) Part {
	x := make([]float64, n)
	p := Part{Value: f(x)}
	for i := range x {
		x[i] = -1
		p.Minus = append(p.Minus, f(x)-p.Value)
		x[i] = 1
		p.Plus = append(p.Plus, f(x)-p.Value)
		x[i] = 0
	}
	return p
}

// TestSpreadInClosedForm holds the tolerances of figures that are not straight
// against closed forms.
func TestSpreadInClosedForm(t *testing.T) {
	ramp := func(i int, by float64) Part {
		return off(2, func(x []float64) float64 { return by * x[i] })
	}
	for _, tc := range []struct {
		name    string
		parts   []Part
		of      func([]float64) float64
		effects []float64
		want    float64 // the standard deviation
		rel     float64 // what 500 samples and their reflections leave
	}{
		// Lognormal: mean derivative σ·e^{σ²/2}, variance e^{σ²}(e^{σ²}−1)
		// (Johnson, Kotz and Balakrishnan 1994, Continuous Univariate
		// Distributions 1, chapter 14, from memory).
		{"lognormal", []Part{off(1, func(x []float64) float64 { return math.Exp(0.5 * x[0]) })}, nil,
			[]float64{0.5 * math.Exp(0.125)}, math.Sqrt(math.Exp(0.25) * (math.Exp(0.25) - 1)), 0.05},
		// The larger of two independent normal deviates: derivatives of ½ each,
		// variance 1 − 1/π (Clark 1961, Operations Research 9:145, from memory).
		{"larger of two", []Part{ramp(0, 1), ramp(1, 1)}, slices.Max[[]float64],
			[]float64{0.5, 0.5}, math.Sqrt(1 - 1/math.Pi), 0.03},
		// x + x²/2: derivative 1, variance 1 + ½.
		{"square", []Part{off(1, func(x []float64) float64 { return x[0] + x[0]*x[0]/2 })}, nil,
			[]float64{1}, math.Sqrt(1.5), 0.06},
		// A product has no derivatives at its mean: all of it is left over.
		{"product", []Part{ramp(0, 1), ramp(1, 1)}, func(v []float64) float64 { return v[0] * v[1] },
			[]float64{0, 0}, 1, 0.15},
	} {
		t.Run(tc.name, func(t *testing.T) {
			s := propagated(tc.parts, tc.of)
			for i, want := range tc.effects {
				if math.Abs(s.Effects[i]-want) > 0.03*tc.want {
					t.Errorf("effect %d is %.4g, want %.4g", i, s.Effects[i], want)
				}
			}
			near(t, "tolerance", s.tolerance(), tc.want, tc.rel)
			if !s.crooked() {
				t.Error("it is not called crooked")
			}
		})
	}
}

// The comparison loss of a power meter, δY = X1² + X2² with deviations of 0.005 each,
// which first derivatives alone miss where both are nearly nothing (JCGM 101:2008,
// supplement 1 to the GUM, 9.4.3, table 8, from memory; in millionths).
func TestComparisonLoss(t *testing.T) {
	const deviation = 0.005
	for _, row := range []struct{ x1, u, first float64 }{{0, 50, 0}, {0.010, 112, 100}, {0.050, 502, 500}} {
		s := propagated([]Part{off(2, func(x []float64) float64 {
			a, b := row.x1+deviation*x[0], deviation*x[1]
			return 1e6 * (a*a + b*b)
		})}, nil)
		// A thousand draws of what is squared leave 4.5 %.
		if u := s.tolerance(); math.Abs(u-row.u) > 0.1*row.u {
			t.Errorf("X1 = %g: u is %.4g, published %g", row.x1, u, row.u)
		}
		if math.Abs(math.Abs(s.Effects[0])-row.first) > 0.05*row.first+1 {
			t.Errorf("X1 = %g: the first-order part is %.4g, published %g", row.x1, s.Effects[0], row.first)
		}
	}
}

// The calibration of a weight against a standard in air, of whose five inputs two act
// through their product alone (JCGM 101:2008, 9.3, table 6, from memory): first
// derivatives give 0.0539 mg, with terms of higher order 0.0750, draws of its
// rectangular distributions 0.0754. A product shows where its factors are parts; of a
// figure that is its own only part TestNoFigureIsAProduct holds that there is none.
func TestWeightInAir(t *testing.T) {
	mean := []float64{100_000, 1.234, 1.2, 8000, 8000} // mg, mg, kg/m³ of air, weight and standard
	deviations := []float64{0.050, 0.020, 0.1 / math.Sqrt(3), 1000 / math.Sqrt(3), 50 / math.Sqrt(3)}
	difference := func(v []float64) float64 { return (v[0]+v[1])*(1+(v[2]-1.2)*(1/v[3]-1/v[4])) - 100_000 }
	at := func(i int, x []float64) float64 { return mean[i] + deviations[i]*x[i] }
	inputs := make([]Part, len(mean))
	for i := range inputs {
		inputs[i] = off(len(mean), func(x []float64) float64 { return at(i, x) })
	}
	near(t, "deviation by parts", propagated(inputs, difference).tolerance(), 0.0750, 0.04) // of 1,000 draws
	whole := off(len(mean), func(x []float64) float64 {
		v := make([]float64, len(mean))
		for i := range v {
			v[i] = at(i, x)
		}
		return difference(v)
	})
	near(t, "deviation by first derivatives", propagated([]Part{whole}, nil).tolerance(), 0.0539, 1e-3)
}
