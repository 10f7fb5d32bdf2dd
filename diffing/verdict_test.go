package diffing

import (
	"math"
	"testing"

	"rodlore/evaluate"
)

func TestVerdict(t *testing.T) {
	fig := &evaluate.Figure{Key: "weight"}
	nan := math.NaN()
	for _, tc := range []struct {
		name                     string
		old, new                 *evaluate.Figure
		change, error, tolerance float64
		want                     Verdict
	}{
		{"beyond two deviations", fig, fig, -2.1, 0, 1, Real},
		{"within two deviations", fig, fig, 1.9, 0, 1, NotReal},
		{"beyond them by its error only", fig, fig, 2.1, 0.2, 1, NotReal},
		{"exact", fig, fig, 1, 0, 0, Real},
		{"none", fig, fig, 0, 0, 0, NotReal},
		{"within the numerical error", fig, fig, 0.1, 0.2, nan, NotReal},
		{"without tolerances", fig, fig, 1, 0.2, nan, Unknown},
		{"gone", fig, nil, nan, 0, nan, Unknown},
	} {
		t.Run(tc.name, func(t *testing.T) {
			s := Shift{Old: tc.old, New: tc.new, Change: tc.change, Error: tc.error, Tolerance: tc.tolerance}
			if got := s.Real(); got != tc.want {
				t.Errorf("real is %q, want %q", string(got), string(tc.want))
			}
		})
	}
}

// TestFiguresCarryTolerances holds that a shift's tolerance is that of the
// change: an input on both sides acts on both.
func TestFiguresCarryTolerances(t *testing.T) {
	shared := evaluate.Input{ID: evaluate.InputID{Kind: evaluate.WallInput, Of: "tip"}}
	own := evaluate.Input{ID: evaluate.InputID{Kind: evaluate.MassInput, Of: "ring"}}
	side := func(effects ...float64) *evaluate.Figures {
		f := listed("m/1", evaluate.Figure{Key: "weight", Value: 0.2, Unit: "kg", Tolerance: 1})
		f.Tolerances = &evaluate.Tolerances{
			Inputs:  []evaluate.Input{shared, own}[:len(effects)],
			Spreads: map[string]*evaluate.Spread{"weight": {Effects: effects}},
		}
		return f
	}
	shifts, _ := Figures(side(3), side(3.5, 1.2))
	if got, want := shifts[0].Tolerance, 1.3; !near(got, want) { // √(0.5² + 1.2²)
		t.Errorf("tolerance %g, want %g", got, want)
	}
	if shifts, _ = Figures(listed("m/1", evaluate.Figure{Key: "weight"}), side(3)); !math.IsNaN(shifts[0].Tolerance) {
		t.Errorf("tolerance %g without one on the old side", shifts[0].Tolerance)
	}
}
