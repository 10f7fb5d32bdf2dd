package figures

import (
	"math"
	"strings"
	"testing"

	"rodlore/models/units"
)

// TestTable holds that every row says all that the screens need.
func TestTable(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range All() {
		switch {
		case seen[k.Key]:
			t.Errorf("%s stands in the table twice", k.Key)
		case k.Short == "" || strings.Count(k.Sentence, "%s") != 1:
			t.Errorf("%s has no name, or no sentence with one place for its value", k.Key)
		case units.BySI(k.Unit) == nil:
			t.Errorf("%s is in %q, which wants cannot be read in", k.Key, k.Unit)
		case k.Exact && (k.Summed || k.Compose != nil):
			t.Errorf("%s is exact, and has a tolerance", k.Key)
		case (Display{}).Value(k.Key, k.Unit, 1) == "":
			t.Errorf("%s cannot be written", k.Key)
		}
		seen[k.Key] = true
		if got := Of(k.Key); got.Sentence != k.Sentence {
			t.Errorf("%s is found as %q", k.Key, got.Key)
		}
	}
	if got := Of("warp"); got.Short != "warp" || got.Unit != "" {
		t.Errorf("a figure that is not in the table is %q in %q", got.Short, got.Unit)
	}
}

func TestNoticed(t *testing.T) {
	for _, tc := range []struct {
		key         string
		value, want float64
	}{
		{"weight", 0.2, 0.006},
		{"balance", 1.2, 0.01},
		{"flat-turn", 0.02, math.Pi / 360},
		{"rings", 8, 0}, // any ring
	} {
		if got := Of(tc.key).Noticed.Of(tc.value); math.Abs(got-tc.want) > 1e-12 {
			t.Errorf("%s of %g: %g is noticed, want %g", tc.key, tc.value, got, tc.want)
		}
	}
	if got := (Noticed{Share: 0.1, Absolute: 1}).Of(-20); got != 2 {
		t.Errorf("a tenth of −20 is %g", got)
	}
}

// TestSlopes holds the slopes of compositions against central differences.
func TestSlopes(t *testing.T) {
	const step = 1e-6
	for _, k := range All() {
		if k.Compose == nil {
			continue
		}
		parts, slopes := []float64{1.3, 0.7}, make([]float64, 2)
		if got, want := k.Compose(parts, slopes), k.Compose(parts, nil); got != want {
			t.Errorf("%s is %g with its slopes, %g without", k.Key, got, want)
		}
		for j, slope := range slopes {
			was := parts[j]
			parts[j] = was + step
			above := k.Compose(parts, nil)
			parts[j] = was - step
			if got := (above - k.Compose(parts, nil)) / (2 * step); math.Abs(got-slope) > 1e-6 {
				t.Errorf("%s rises by %g with part %d, by differences %g", k.Key, slope, j, got)
			}
			parts[j] = was
		}
	}
	slopes := make([]float64, 3)
	if largest([]float64{2, 1, 2}, slopes); slopes[0] != 0.5 || slopes[1] != 0 || slopes[2] != 0.5 {
		t.Errorf("of two that are the largest together the slopes are %v", slopes)
	}
}

// TestKeys holds the order in which lists are shown.
func TestKeys(t *testing.T) {
	if got := strings.Join(Keys(Main), " "); got != "weight rings third-load test-curve recovery flat-turn" {
		t.Errorf("main figures: %s", got)
	}
	if got := len(Keys(Every)); got != len(All()) {
		t.Errorf("%d of %d figures", got, len(All()))
	}
}

// TestNothingIsWrittenWithoutSign holds that what rounds to nothing is neither
// more nor less.
func TestNothingIsWrittenWithoutSign(t *testing.T) {
	d := Display{Units: "metric"}
	for _, change := range []float64{-0.4e-3, 0, 0.4e-3} {
		if got := d.ChangeWithTolerance("weight", "kg", change, 0.1643, 0.011); got != "0 g ± 11" {
			t.Errorf("%g kg: %q", change, got)
		}
		if d.Shows("weight", "kg", change/100, 0.1643) {
			t.Errorf("%g kg shows", change/100)
		}
	}
	if got := Deviations(-0.04); got != "0.0" {
		t.Errorf("no deviation: %q", got)
	}
}

// TestColumn holds that one head suits all numbers under it.
func TestColumn(t *testing.T) {
	c := Display{Units: "metric", Comma: true}.Column("weight", "kg", 1.998)
	if got := c.Number(2.0021) + c.Unit(); got != "2002,1g" && got != "2002g" {
		t.Errorf("%q", got)
	}
	if text, ok := c.Change(-0.0101, 1.998); text != "−10" || !ok {
		t.Errorf("%q, %v", text, ok)
	}
}
