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
