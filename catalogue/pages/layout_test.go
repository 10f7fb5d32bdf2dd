package pages

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rodlore/catalogue/pages/drawing"
)

func TestSpread(t *testing.T) {
	tests := []struct {
		name string
		at   []float64
		want []float64
	}{
		{"far apart", []float64{10, 20, 40}, []float64{10, 20, 40}},
		{"two together", []float64{10, 10}, []float64{8, 12}},
		{"pushed by the third", []float64{10, 12, 13}, []float64{7.666666666666667, 11.666666666666666, 15.666666666666666}},
		{"at the edge", []float64{0, 1, 30}, []float64{0, 4, 30}},
		{"none", nil, []float64{}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := spread(test.at, 4, 0, 100)
			if !slices.EqualFunc(got, test.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) { // rounding
				t.Errorf("%v, want %v", got, test.want)
			}
		})
	}
}

func TestSpreadKeepsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.SliceOfN(rapid.Float64Range(0, 100), 0, 20).Draw(t, "at")
		slices.Sort(at)
		got := spread(at, 4, 0, 100)
		for i := range got {
			if i > 0 && got[i]-got[i-1] < 4-1e-9 || got[i] < 0 || got[i] > 100+1e-9 {
				t.Fatalf("%v is spread to %v", at, got)
			}
		}
	})
}

func TestScale(t *testing.T) {
	tests := []struct {
		metres, mm float64
		want       scale
	}{
		{3.048, 117, 30}, {3.048, 171, 20}, {0.1, 200, 1}, {3.9624, 171, 25}, {100, 10, 100},
	}
	for _, test := range tests {
		if got := (Pen{}).fitting(test.metres, test.mm); got != test.want {
			t.Errorf("%g m into %g mm: %g, want %g", test.metres, test.mm, float64(got), float64(test.want))
		}
	}
	if got := scale(30).mm(3); got != 100 {
		t.Errorf("3 m at 1 : 30 are %g mm", got)
	}
	// ISO 5455:1979 recommends these reductions.
	for _, iso := range []scale{2, 5, 10, 20, 50, 100} {
		if !slices.Contains(scales, iso) {
			t.Errorf("1 : %g is missing", float64(iso))
		}
	}
}

func TestHueOf(t *testing.T) {
	tests := []struct {
		words string
		want  drawing.Ink
		ok    bool
	}{
		{"moss", drawing.RGB(92, 110, 58), true},
		{"Bottle Green", drawing.RGB(38, 118, 66), true},
		{"dark green", drawing.RGB(20, 64, 36), true},
		{"pale blue", drawing.RGB(136, 160, 202), true},
		{"as it comes", drawing.None, false},
		{"", drawing.None, false},
	}
	for _, test := range tests {
		if got, ok := hueOf(test.words); ok != test.ok || got != test.want {
			t.Errorf("%q is %x, %v; want %x", test.words, got, ok, test.want)
		}
	}
}
