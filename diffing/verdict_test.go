package diffing

import (
	"maps"
	"math"
	"slices"
	"testing"

	"rodlore/evaluate"
)

// side are the figures of a rod whose weight has those effects of inputs.
func side(value float64, effects map[string]float64) *evaluate.Figures {
	f := listed("m/1", evaluate.Figure{Key: "weight", Value: value, Unit: "kg", Error: 0.1, Tolerance: 1})
	part := evaluate.Part{Value: value}
	tolerances := &evaluate.Tolerances{}
	f.Tolerances = func() *evaluate.Tolerances { return tolerances }
	for _, of := range slices.Sorted(maps.Keys(effects)) {
		part.Minus, part.Plus = append(part.Minus, -effects[of]), append(part.Plus, effects[of])
		tolerances.Inputs = append(tolerances.Inputs, evaluate.Input{ID: evaluate.InputID{Kind: evaluate.MassInput, Of: of}})
	}
	tolerances.Spreads = map[string]*evaluate.Spread{"weight": {Effects: part.Plus, Parts: []evaluate.Part{part}}}
	return f
}

func TestVerdict(t *testing.T) {
	apart := func(change float64) []*evaluate.Figures { // by an own error of 1
		return []*evaluate.Figures{side(10, map[string]float64{"both": 3}), side(10+change, map[string]float64{"both": 3, "own": 1})}
	}
	alone := func(value float64) *evaluate.Figures {
		return listed("m/1", evaluate.Figure{Key: "weight", Value: value, Unit: "kg", Error: 0.1})
	}
	for _, tc := range []struct {
		name  string
		sides []*evaluate.Figures
		want  Verdict
	}{
		{"beyond two deviations and the numerical error", apart(-2.21), Real},
		{"within two deviations", apart(1.9), NotReal},
		{"beyond them by its error only", apart(2.19), NotReal},
		{"none", apart(0), NotReal},
		{"within the numerical error", []*evaluate.Figures{alone(10), alone(10.15)}, NotReal},
		{"without tolerances", []*evaluate.Figures{alone(10), alone(11)}, Unknown},
		{"gone", []*evaluate.Figures{side(10, nil), listed("m/1")}, Unknown},
	} {
		t.Run(tc.name, func(t *testing.T) {
			shifts := Figures(tc.sides[0], tc.sides[1], nil)
			if got := shifts[0].Real(); got != tc.want {
				t.Errorf("real is %q, want %q", string(got), string(tc.want))
			}
		})
	}
}

// TestFiguresCarryTolerances holds that a shift's tolerance is that of the
// change: an input on both sides acts on both.
func TestFiguresCarryTolerances(t *testing.T) {
	old := side(0.2, map[string]float64{"tip": 3})
	shifts := Figures(old, side(0.2, map[string]float64{"tip": 3.5, "ring": 1.2}), nil)
	if got, want := shifts[0].Tolerance(), 1.3; !near(got, want) { // √(0.5² + 1.2²)
		t.Errorf("tolerance %g, want %g", got, want)
	}
	if shifts = Figures(listed("m/1", evaluate.Figure{Key: "weight"}), old, nil); !math.IsNaN(shifts[0].Tolerance()) {
		t.Errorf("tolerance %g without one on the old side", shifts[0].Tolerance())
	}
}
