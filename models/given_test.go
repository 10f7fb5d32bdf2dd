package models_test

import (
	"testing"

	"rodlore/models"
)

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
