package models_test

import (
	"math"
	"testing"

	"rodlore/models"
)

func TestParseLoads(t *testing.T) {
	for _, tt := range []struct {
		text string
		want models.Force
		err  string
	}{
		{"5 N", 5, ""},
		{"100 g", 0.980665, ""}, // standard gravity, 3rd CGPM 1901
		{"5 mm", 0, `"5 mm" is a length; expected a force such as 1.5 lb`},
	} {
		got, err := models.ParseForce(tt.text)
		if got != tt.want || (err == nil) != (tt.err == "") || err != nil && err.Error() != tt.err {
			t.Errorf("%s: %v, %v", tt.text, got, err)
		}
	}
	if got, err := models.ParseAngle("90 deg"); got != math.Pi/2 || err != nil {
		t.Errorf("90 deg: %v, %v", got, err)
	}
}

func TestUnitSize(t *testing.T) {
	if got := models.UnitSize("lb"); got != 0.45359237 {
		t.Errorf("lb: %v", got)
	}
	defer func() {
		if recover() == nil {
			t.Error("no panic on an unknown unit")
		}
	}()
	models.UnitSize("furlong")
}

func TestDidYouMean(t *testing.T) {
	known := []string{"skerry-10", "long-drift", "T-6"}
	for word, want := range map[string]string{
		"skery-10":   "; did you mean skerry-10?",
		"Long-Drift": "; did you mean long-drift?",
		"logn-drift": "; did you mean long-drift?",
		"T-8":        "; did you mean T-6?",
		"whatever":   "",
		"":           "",
	} {
		if got := models.DidYouMean(word, known); got != want {
			t.Errorf("%q: got %q, want %q", word, got, want)
		}
	}
}

func TestPositions(t *testing.T) {
	for want, pos := range map[string]models.Pos{
		"-":           {},
		"m.yaml":      {File: "m.yaml"},
		"m.yaml:3":    {File: "m.yaml", Line: 3},
		"m.yaml:3:14": {File: "m.yaml", Line: 3, Col: 14},
	} {
		if got := pos.String(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestReelsOnTop(t *testing.T) {
	for kind, want := range map[models.ReelKind]bool{
		models.FixedSpool: false, models.Multiplier: true, models.Centrepin: false, models.Fly: false,
	} {
		if kind.OnTop() != want {
			t.Errorf("%s: %v", kind, !want)
		}
	}
}
