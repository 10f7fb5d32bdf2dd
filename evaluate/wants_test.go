package evaluate

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"rodlore/models"
)

// wantedAt is a model of the demo that wants figures within so many of their
// tolerances of what they are.
func wantedAt(t *testing.T, model string, keys []string, spans [][2]float64) *models.Spec {
	t.Helper()
	s, set := demoSpec(t, model), models.DefaultSettings()
	f := withTolerances(t, s, set)
	m, wanting := *s.Model, *s
	m.Wants = nil
	for _, key := range keys {
		fig, ok := f.Get(key)
		if !ok {
			t.Fatalf("%s has no %s", model, key)
		}
		for _, span := range spans {
			m.Wants = append(m.Wants, models.Want{
				Figure: key, Text: fmt.Sprintf("from %g to %g deviations", span[0], span[1]),
				Min: fig.Value + span[0]*fig.Tolerance, Max: fig.Value + span[1]*fig.Tolerance,
			})
		}
	}
	wanting.Model = &m
	return &wanting
}

// TestSharesAreThoseOfBuilds builds rods of the demo two thousand times over,
// with all inputs off at random, and counts those that meet each want. What such
// a count may be off by is binomial; four of its standard deviations are passed
// once in sixteen thousand rows. To that come three in a hundred for what the
// shares themselves leave out: tolerances are right to 5 to 8 %
// (TestTolerancesAreThoseOfSamples), which moves a share by 0.24 times as much at
// most, and those of figures that are sampled are read off samples too.
func TestSharesAreThoseOfBuilds(t *testing.T) {
	const n = 2000
	inf := math.Inf(1)
	keys := []string{"weight", "test-curve", "third-load", "recovery", "flat-turn", "ring-turn-spread", "strain-worst", "load-limit", "settle"}
	spans := [][2]float64{{-inf, 0}, {0.5, inf}, {-1.6, 1.6}, {-inf, -2}}
	for _, model := range []string{"skerry-10", "groyne-13", "overfall-11"} {
		t.Run(model, func(t *testing.T) {
			t.Parallel()
			s, set := wantedAt(t, model, keys, spans), models.DefaultSettings()
			wanted := Wants(s, withTolerances(t, s, set))
			met := make([]int, len(wanted))
			for _, built := range builds(t, s, set, n) {
				for i, w := range wanted {
					if v := built[w.Figure]; w.Min <= v && v <= w.Max {
						met[i]++
					}
				}
			}
			for i, w := range wanted {
				counted := float64(met[i]) / n
				// Of the share that was worked out, and of no less than one rod.
				p := min(max(w.Share, 1.0/n), 1-1.0/n)
				most := 4*math.Sqrt(p*(1-p)/n) + 0.03
				if !(math.Abs(counted-w.Share) <= most) {
					t.Errorf("%s %s: %.3f of the rods meet it, want %.3f ± %.3f", w.Figure, w.Text, counted, w.Share, most)
				}
			}
		})
	}
}

func TestShareOfANormalFigure(t *testing.T) {
	inf := math.Inf(1)
	for _, tc := range []struct {
		name     string
		fig      Figure
		min, max float64
		want     float64
		within   float64
	}{
		// Abramowitz and Stegun 1964, table 26.1: P(1) = 0.841344746, P(2) =
		// 0.977249868.
		{"one deviation above", Figure{Value: 10, Tolerance: 2}, -inf, 12, 0.841344746, 1e-9},
		{"two either side", Figure{Value: 10, Tolerance: 2}, 6, 14, 2*0.977249868 - 1, 1e-9},
		// The error's square by three stands with the tolerance's:
		// 1² + 3²/3 = 2².
		{"with its numerical error", Figure{Value: 10, Tolerance: 1, Error: 3}, -inf, 12, 0.841344746, 1e-9},
		{"counted and met", Figure{Value: 8}, 7, 8, 1, 0},
		{"counted and missed", Figure{Value: 8}, 9, inf, 0, 0},
		{"not known", Figure{Value: 8, Tolerance: math.NaN()}, 7, 9, math.NaN(), 0},
	} {
		t.Run(tc.name, func(t *testing.T) {
			got := normalShare(models.Want{Min: tc.min, Max: tc.max}, tc.fig)
			if !(math.Abs(got-tc.want) <= tc.within) && !(math.IsNaN(got) && math.IsNaN(tc.want)) {
				t.Errorf("share %.10g, want %.10g", got, tc.want)
			}
		})
	}
}

// TestShareOfASampledFigure holds the share of a figure e^x, whose logarithm is
// normal (Johnson, Kotz and Balakrishnan 1994, Continuous Univariate
// Distributions 1, chapter 14; from memory).
func TestShareOfASampledFigure(t *testing.T) {
	const sigma = 0.4
	power := scattered{
		Figure: Figure{Value: 1}, spread: &Spread{Parts: []Part{off(1, func(x []float64) float64 { return math.Exp(sigma * x[0]) })}},
	}
	for _, z := range []float64{-2, -0.5, 0, 1, 1.6} {
		w := models.Want{Min: math.Inf(-1), Max: math.Exp(sigma * z)}
		got := sampledShare(w, power, drawn(1, wantSamples))
		want := distuv.UnitNormal.CDF(z)
		// Four standard deviations of a share of 2,000 samples.
		if most := 4 * math.Sqrt(want*(1-want)/wantSamples); math.Abs(got-want) > most {
			t.Errorf("below e^%g: share %.4f, want %.4f ± %.4f", sigma*z, got, want, most)
		}
	}
}

func TestWithinCountsTheErrorEvenly(t *testing.T) {
	inf := math.Inf(1)
	for _, tc := range []struct{ min, max, value, err, want float64 }{
		{-inf, 10, 10, 1, 0.5},
		{-inf, 10, 10.5, 1, 0.25},
		{9, 11, 10, 4, 0.25},
		{9, 11, 20, 4, 0},
		{9, 11, 10, 0, 1},
		{9, 11, 12, 0, 0},
	} {
		if got := within(models.Want{Min: tc.min, Max: tc.max}, tc.value, tc.err); math.Abs(got-tc.want) > 1e-12 {
			t.Errorf("%g ± %g within %g to %g: %g, want %g", tc.value, tc.err, tc.min, tc.max, got, tc.want)
		}
	}
}
