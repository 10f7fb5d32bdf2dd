package figures

import (
	"testing"

	"rodlore/models/units"
)

// TestImperialFigures holds that no figure keeps a metric unit where a range
// asks for imperial ones. Factors: NIST SP 811 (2008), appendix B.8.
func TestImperialFigures(t *testing.T) {
	metric, imperial, both := Display{Units: "metric"}, Display{Units: "imperial"}, Display{Units: "both"}
	for _, tc := range []struct {
		d         Display
		key, unit string
		value     float64
		want      string
	}{
		{imperial, "swing", "kg·m²", 2 * 4.214011e-2, "2.00 lb·ft²"},
		{imperial, "swing", "kg·m²", 0.1098, "2.61 lb·ft²"},
		{imperial, "tip-stiffness", "N/m", 175.1268 / 8, "2.00 oz/in"}, // an eighth of 1 lbf/in
		{imperial, "tip-stiffness", "N/m", 2.79, "0.255 oz/in"},
		{imperial, "", "m/s", 0.3048, "1.0 ft/s"},
		{imperial, "", "m/s", 31.4, "103 ft/s"},
		{imperial, "", "N·m", 1.355818, "1.00 lb·ft"},
		{imperial, "butt-ring-size", "m", 0.025, "25 mm"}, // as the trade names it; common practice, no source
		{both, "butt-ring-size", "m", 0.025, "25 mm"},
		{metric, "swing", "kg·m²", 0.1098, "0.110 kg·m²"},
		{metric, "tip-stiffness", "N/m", 2.79, "2.79 N/m"},
		{both, "swing", "kg·m²", 0.1098, "0.110 kg·m² (2.61 lb·ft²)"},
	} {
		if got := tc.d.Value(tc.key, tc.unit, tc.value); got != tc.want {
			t.Errorf("%s %g %s: %q, want %q", tc.key, tc.value, tc.unit, got, tc.want)
		}
	}
	for _, k := range All() {
		switch k.Unit {
		case "Hz", "s", "rad", "1", "currency": // the same in both
		default:
			if m, i := units.Styles(k.Unit); m == i || m.Unit == i.Unit {
				t.Errorf("%s is written in %s in both systems", k.Unit, m.Unit)
			}
		}
	}
}

func TestWritten(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"a measure", "9.5 mm", "9,5 mm"},
		{"two systems", "1258 mm (49.5 in)", "1258 mm (49,5 in)"},
		{"a range", "7.5 g to 28 g", "7,5 g to 28 g"},
		{"a name", "seat-1.5 instead of seat-2", "seat-1.5 instead of seat-2"},
		{"feet and inches", "9 ft 6.5 in", "9 ft 6,5 in"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := (Display{Comma: true}).Written(test.text); got != test.want {
				t.Errorf("got %q, want %q", got, test.want)
			}
			if got := (Display{}).Written(test.text); got != test.text {
				t.Errorf("with a point it is %q", got)
			}
		})
	}
}

// In an inch range what a spec has in metric units is told in inches and ounces, to
// digits that tell apart what a last digit did; what is a size of rings, a name or no
// length stays. 1 in is 25.4 mm, 1 lb 453.59237 g (NIST SP 811, 2008, appendix B).
func TestWrittenInInches(t *testing.T) {
	for text, want := range map[string]string{
		"16 mm": "0.63 in", "1565 mm": "61.61 in", "1561 mm, carbon": "61.46 in, carbon", "0.65 mm": "0.0256 in", "254 mm": "10 in",
		"10 g to 40 g": "0.35 oz to 1.41 oz", "at most 200 g": "at most 7.05 oz", "9 kg": "19.8 lb", "84 m": "276 ft", "0.5mm": "0.02 in",
		"size 6 mm, height 7 mm": "size 6 mm, height 0.28 in", "1550 kg/m3": "1550 kg/m3", "9 g/m": "9 g/m",
		"0.05 N·m2": "0.05 N·m2", "DT-16": "DT-16", "10 ft": "10 ft", "3 1/2 in": "3 1/2 in", "2.35": "2.35",
	} {
		if got := (Display{Units: "imperial"}).Written(text); got != want {
			t.Errorf("%q becomes %q, not %q", text, got, want)
		}
		if got := (Display{Units: "metric"}).Written(text); got != text {
			t.Errorf("%q becomes %q", text, got)
		}
	}
}

// TestThickness holds that a wall is told to the digits that a calliper reads.
func TestThickness(t *testing.T) {
	for _, tt := range []struct {
		units string
		m     float64
		want  string
	}{{"metric", 0.055e-3, "0.06 mm"}, {"metric", 0.2e-3, "0.20 mm"}, {"metric", 7.84e-3, "7.8 mm"}, {"imperial", 7.84e-3, "0.309 in"}} {
		if got := (Display{Units: tt.units}).Thickness(tt.m); got != tt.want {
			t.Errorf("%g m is %q, not %q", tt.m, got, tt.want)
		}
	}
}

// TestAlike holds that what stands side by side is written in one unit.
func TestAlike(t *testing.T) {
	const gram = 9.80665e-3 // of a weight that hangs, N
	d := Display{Units: "metric"}
	for _, tc := range []struct {
		d     Display
		grams float64
		want  string
	}{
		{d, 1947, "1947 g"}, {d, 2160, "2.16 kg"}, {d.Alike(1947*gram, 2160*gram), 1947, "1.95 kg"}, {d.Alike(1947*gram, 1990*gram), 1947, "1947 g"},
	} {
		if got := tc.d.Value("", "N", tc.grams*gram); got != tc.want {
			t.Errorf("%v g: %q, want %q", tc.grams, got, tc.want)
		}
	}
}
