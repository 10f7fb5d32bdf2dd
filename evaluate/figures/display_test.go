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

// read is a text as a quantity of the first of those units that it has.
func read(text string) units.Quantity {
	for _, unit := range []string{"m", "kg", "N", "kg/m³", "kg/m", "N·m²", "1"} {
		if v, err := units.Parse(text, units.BySI(unit)); err == nil {
			return units.Quantity{Value: v, Unit: unit, Text: text}
		}
	}
	return units.Quantity{Text: text}
}

func TestWritten(t *testing.T) {
	for text, want := range map[string]string{
		"9.5 mm": "9,5 mm", "9 ft 6.5 in": "9 ft 6,5 in", "0.05 N·m2": "0,05 N·m2", "seat-1.5": "seat-1.5",
	} {
		if got := (Display{Comma: true}).Written(read(text)); got != want {
			t.Errorf("%q becomes %q, not %q", text, got, want)
		}
		if got := (Display{}).Written(read(text)); got != text {
			t.Errorf("with a point %q is %q", text, got)
		}
	}
}

// In an inch range what a spec has in metric units is told in inches and ounces, to
// digits that tell apart what a last digit did; a name and what is no length or mass
// stay. 1 in is 25.4 mm, 1 lb 453.59237 g (NIST SP 811, 2008, appendix B).
func TestWrittenInInches(t *testing.T) {
	for text, want := range map[string]string{
		"16 mm": "0.63 in", "1565 mm": "61.61 in", "0.65 mm": "0.0256 in", "254 mm": "10 in",
		"9 kg": "19.8 lb", "84 m": "276 ft", "0.5mm": "0.02 in", "200 g": "7.05 oz",
		"1550 kg/m3": "1550 kg/m3", "9 g/m": "9 g/m",
		"0.05 N·m2": "0.05 N·m2", "DT-16": "DT-16", "10 ft": "10 ft", "3 1/2 in": "3 1/2 in", "2.35": "2.35",
	} {
		if got := (Display{Units: "imperial"}).Written(read(text)); got != want {
			t.Errorf("%q becomes %q, not %q", text, got, want)
		}
		if got := (Display{Units: "metric"}).Written(read(text)); got != text {
			t.Errorf("%q becomes %q", text, got)
		}
	}
	load := units.Quantity{Value: 0.2 * 9.80665, Unit: "N", Text: "200 g"}
	if got := (Display{Units: "imperial"}).Written(load); got != "7.05 oz" {
		t.Errorf("a load of 200 g is %q", got)
	}
	apart := units.Quantity{Value: 0.1658, Unit: "kg", Text: "165.8 g ± 0.5 g"}
	if got := (Display{Units: "imperial"}).Written(apart); got != "5.85 oz" {
		t.Errorf("what was weighed is %q", got)
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

// TestSame holds that two values are the same where a reader is given one number.
func TestSame(t *testing.T) {
	for _, tc := range []struct {
		units string
		a, b  float64 // g
		want  bool
	}{{"metric", 164.31, 164.34, true}, {"metric", 164.31, 164.38, false}, {"both", 164.31, 164.34, true}, {"imperial", 164.31, 164.34, true}, {"metric", 1999, 2000, false}} {
		d := Display{Units: tc.units}
		if got := d.Same("weight", "kg", tc.a/1e3, tc.b/1e3); got != tc.want || got != (d.Value("weight", "kg", tc.a/1e3) == d.Value("weight", "kg", tc.b/1e3)) {
			t.Errorf("%s: %g g and %g g the same: %v", tc.units, tc.a, tc.b, got)
		}
	}
}
