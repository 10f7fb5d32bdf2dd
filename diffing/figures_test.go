package diffing

import (
	"math"
	"testing"

	"rodlore/evaluate"
)

func listed(method string, list ...evaluate.Figure) *evaluate.Figures {
	return &evaluate.Figures{Method: method, List: list}
}

func TestFigures(t *testing.T) {
	old := listed("m/1",
		evaluate.Figure{Key: "weight", Value: 0.2, Unit: "kg"},
		evaluate.Figure{Key: "recovery", Value: 2.4, Unit: "Hz", Error: 1e-3},
		evaluate.Figure{Key: "flat-turn", Value: 0, Unit: "rad"},
		evaluate.Figure{Key: "gone", Value: 1, Unit: "m"})
	now := listed("m/1",
		evaluate.Figure{Key: "weight", Value: 0.19, Unit: "kg"},
		evaluate.Figure{Key: "recovery", Value: 2.4015, Unit: "Hz", Error: 1e-3},
		evaluate.Figure{Key: "flat-turn", Value: 0.1, Unit: "rad"},
		evaluate.Figure{Key: "came", Value: 3, Unit: "s"})
	shifts := Figures(old, now, nil)
	nan := math.NaN()
	for i, want := range []struct {
		key             string
		change, percent float64
		changed         bool
	}{
		{"weight", -0.01, -5, true},
		{"recovery", 0.0015, 0.0625, false}, // within the errors of both sides, 2e-3
		{"flat-turn", 0.1, nan, true},       // from zero there is no percentage
		{"came", nan, nan, true},
		{"gone", nan, nan, true},
	} {
		s := shifts[i]
		if s.Key != want.key || !near(s.Change, want.change) || !near(s.Percent(), want.percent) || s.Changed() != want.changed {
			t.Errorf("%s: change %g, %g %%, changed %v; want %+v", s.Key, s.Change, s.Percent(), s.Changed(), want)
		}
	}
}

func near(a, b float64) bool {
	return math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) < 1e-12
}
