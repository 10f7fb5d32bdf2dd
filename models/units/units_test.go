package units_test

import (
	"math"
	"testing"

	"rodlore/models/units"
)

func TestParseAs(t *testing.T) {
	for _, tt := range []struct {
		text string
		want units.Force
		err  string
	}{
		{"5 N", 5, ""},
		{"100 g", 0.980665, ""}, // standard gravity, 3rd CGPM 1901
		{"5 mm", 0, `"5 mm" is a length; expected a force such as 1.5 lb`},
	} {
		got, err := units.ParseAs[units.Force](tt.text)
		if got != tt.want || (err == nil) != (tt.err == "") || err != nil && err.Error() != tt.err {
			t.Errorf("%s: %v, %v", tt.text, got, err)
		}
	}
	if got, err := units.ParseAs[units.Angle]("90 deg"); got != math.Pi/2 || err != nil {
		t.Errorf("90 deg: %v, %v", got, err)
	}
}

func TestSize(t *testing.T) {
	if got := units.Size("lb"); got != 0.45359237 {
		t.Errorf("lb: %v", got)
	}
	defer func() {
		if recover() == nil {
			t.Error("no panic on an unknown unit")
		}
	}()
	units.Size("furlong")
}
