package figures

import (
	"math"
	"testing"
)

// TestDigitsAreCut holds that no digit is shown that the tolerance does not
// support: at most two of the tolerance (JCGM 100:2008, 7.2.6), and the value
// to the same place.
func TestDigitsAreCut(t *testing.T) {
	metric, both := Display{Units: "metric", Currency: "EUR"}, Display{Units: "both"}
	for _, tc := range []struct {
		d                Display
		key, unit        string
		value, deviation float64
		want             string
	}{
		{metric, "weight", "kg", 0.18234, 0.00331, "182 g ± 3"},
		{metric, "weight", "kg", 0.18234, 0.00181, "182.3 g ± 1.8"},
		{metric, "weight", "kg", 0.18234, 0.00199, "182 g ± 2"},
		{metric, "weight", "kg", 0.18234, 0.0000012, "182.3 g"}, // as good as is shown
		{metric, "weight", "kg", 0.18234, 0.0098, "182 g ± 10"},
		{metric, "weight", "kg", 0.18234, 0, "182.3 g"},
		{metric, "weight", "kg", 0.18234, math.NaN(), "182.3 g"},
		{metric, "third-load", "N", 19.05, 1.92, "1900 g ± 200"},
		{metric, "balance", "m", 1.2403, 0.013, "1240 mm ± 13"},
		{metric, "balance", "m", 1.2403, 0.034, "1240 mm ± 30"},
		{metric, "half-turn", "1", 0.2466, 0.0036, "24.7 % ± 0.4"},
		{metric, "rings", "1", 8, 0, "8"},
		{metric, "recovery", "Hz", 3.1889, 0.0707, "3.19 Hz ± 0.07"},
		{metric, "test-curve", "N", 6.268, 0.579, "640 g ± 60 (1.41 lb)"},
		{both, "weight", "kg", 0.18234, 0.00331, "182 g ± 3 (6.43 oz)"},
	} {
		if got := tc.d.WithTolerance(tc.key, tc.unit, tc.value, tc.deviation); got != tc.want {
			t.Errorf("%s %g ± %g: %q, want %q", tc.key, tc.value, tc.deviation, got, tc.want)
		}
	}
}

func TestChangesAreCut(t *testing.T) {
	d := Display{Units: "metric"}
	for _, tc := range []struct {
		change, value, deviation float64
		want                     string
	}{
		{-0.00112, 0.1643, 0.00002, "−1.1 g"},
		{-0.00112, 0.1643, 0.00008, "−1.1 g ± 0.1"},
		{0.0312, 0.1643, 0.0047, "+31 g ± 5"},
		{-0.00112, 0.1643, 0, "−1.1 g"},
		{-0.0312, 0.1643, 0.03, "−30 g ± 30"},
	} {
		if got := d.ChangeWithTolerance("weight", "kg", tc.change, tc.value, tc.deviation); got != tc.want {
			t.Errorf("%g ± %g: %q, want %q", tc.change, tc.deviation, got, tc.want)
		}
	}
}

func TestRoundedApart(t *testing.T) {
	d := Display{Units: "metric"}
	for _, tc := range []struct {
		key, unit           string
		old, new, deviation float64
		want                bool
	}{
		{"recovery", "Hz", 2.944, 3.0183, 0, true},              // 2.94 → 3.02, +0.07
		{"recovery", "Hz", 2.944, 3.0243, 0, false},             // 2.94 → 3.02, +0.08
		{"weight", "kg", 0.16544, 0.16436, 0.0001, true},        // 165.4 → 164.4, −1.1 ± 0.1
		{"weight", "kg", 0.1654, 0.1643, 0.0001, false},         // 165.4 → 164.3, −1.1 ± 0.1
		{"second-mode", "Hz", 9.984, 10.104, 0, false},          // 9.98 → 10.1, +0.1
		{"weight", "kg", 0.1654, 0.134, 0.03, true},             // 170 → 130, −30 ± 30
		{"weight", "kg", 2.1044, 2.1096, 0, false},              // 2.10 → 2.11, +0.01
		{"test-curve", "N", 6.2684, 6.2684 + 0.0441, 0.1, true}, // 639 g → 644 g, +4 g
	} {
		if got := d.RoundedApart(tc.key, tc.unit, tc.old, tc.new, tc.deviation); got != tc.want {
			t.Errorf("%s → %s, %s: apart %v, want %v", d.Value(tc.key, tc.unit, tc.old), d.Value(tc.key, tc.unit, tc.new),
				d.ChangeWithTolerance(tc.key, tc.unit, tc.new-tc.old, tc.new, tc.deviation), got, tc.want)
		}
	}
}

func TestSentencesAreCut(t *testing.T) {
	d := Display{Units: "metric"}
	if got := d.Supported("weight", "kg", 0.18234, 0.00331); got != "182 g" {
		t.Errorf("%q, want 182 g", got)
	}
	if got := d.Supported("rings", "1", 8, 0); got != "8" {
		t.Errorf("%q, want 8", got)
	}
}

func TestDeviationsAndEffects(t *testing.T) {
	d := Display{Units: "metric"}
	for _, tc := range []struct{ got, want string }{
		{d.Deviation("", "m", 4e-5, 4e-5), "0.04 mm"},
		{d.Deviation("", "1", 0.03, 0.03), "3 %"},
		{d.Deviation("", "rad", math.Pi/180, math.Pi/180), "1.0°"},
		{d.Effect("weight", "kg", -0.00212, 0.16), "−2 g"},
		{d.Effect("weight", "kg", 0.000123, 0.16), "+0.12 g"},
	} {
		if tc.got != tc.want {
			t.Errorf("%q, want %q", tc.got, tc.want)
		}
	}
}
