package say_test

import (
	"testing"

	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

func TestWanted(t *testing.T) {
	teller := say.Teller{Words: say.English(), Display: figures.Display{Units: "metric"}}
	for want, w := range map[string]evaluate.Wanted{
		"weight: at most 180 g, is 195.4 g: missed":                {Want: models.Want{Figure: "weight", Text: "at most 180 g"}, Value: 0.1954, Unit: "kg", Known: true},
		"recovery: at least 2 Hz, is 2.40 Hz":                      {Want: models.Want{Figure: "recovery", Text: "at least 2 Hz"}, Value: 2.4, Unit: "Hz", Known: true, Met: true},
		"test curve: at most 1 lb, but the rod has no such figure": {Want: models.Want{Figure: "test-curve", Text: "at most 1 lb"}},
	} {
		if got := teller.Wanted(w); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
