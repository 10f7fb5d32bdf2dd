package say_test

import (
	"math"
	"testing"

	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
	"rodlore/models/units"
)

func TestWanted(t *testing.T) {
	none, all := math.Inf(-1), math.Inf(1)
	for _, tc := range []struct {
		units, want string
		wanted      evaluate.Wanted
	}{
		{"metric", "weight: at most 180 g, is 195.4 g: missed",
			evaluate.Wanted{Want: models.Want{Figure: "weight", Text: "at most 180 g", Min: none, Max: 0.18}, Value: 0.1954, Unit: "kg", Known: true}},
		{"metric", "weight: 180.25 g to 210 g, is 195.4 g",
			evaluate.Wanted{Want: models.Want{Figure: "weight", Text: "180.25 g to 210 g", Min: 0.18025, Max: 0.21}, Value: 0.1954, Unit: "kg", Known: true, Met: true}},
		// Factors: NIST SP 811 (2008), appendix B.8.
		{"imperial", "weight: at most 6.35 oz, is 6.89 oz: missed",
			evaluate.Wanted{Want: models.Want{Figure: "weight", Text: "at most 180 g", Min: none, Max: 0.18}, Value: 0.1954, Unit: "kg", Known: true}},
		{"imperial", "rings: 8, is 8",
			evaluate.Wanted{Want: models.Want{Figure: "rings", Text: "8", Min: 8, Max: 8}, Value: 8, Unit: "1", Known: true, Met: true}},
		{"metric", "recovery: at least 2 Hz, is 2.40 Hz",
			evaluate.Wanted{Want: models.Want{Figure: "recovery", Text: "at least 2 Hz", Min: 2, Max: all}, Value: 2.4, Unit: "Hz", Known: true, Met: true}},
		{"metric", "load limit: at least 1800 g, is 1688 g by the material 2216 mm from the tip: missed",
			evaluate.Wanted{Want: models.Want{Figure: "load-limit", Min: 1.8 * 9.80665, Max: all}, Value: 1.688 * 9.80665, Unit: "N", Known: true, Weakest: evaluate.Weakest{By: evaluate.MaterialFails, At: 2.216}}},
		{"metric", "test curve: at most 1.25 lb, but the rod has no such figure",
			evaluate.Wanted{Want: models.Want{Figure: "test-curve", Text: "at most 1 1/4 lb", Min: none, Max: units.MustParse("1 1/4 lb", units.Of[units.Force]())}}},
	} {
		teller := say.Teller{Words: say.English(), Display: figures.Display{Units: tc.units}}
		if got := teller.Wanted(tc.wanted); got != tc.want {
			t.Errorf("%s: got %q, want %q", tc.units, got, tc.want)
		}
	}
}
