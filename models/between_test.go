package models_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rodlore/models"
	"rodlore/models/units"
)

func TestBetween(t *testing.T) {
	for _, row := range []struct {
		name, a, b string
		way        float64
		want       string
	}{
		{"to the digits of the two", "620 mm", "545 mm", 1. / 3, "595 mm"},
		{"to the finer ones", "8.9 mm", "8.76 mm", 0.5, "8.83 mm"},
		{"rounded", "620 mm", "605 mm", 0.5, "613 mm"},
		{"in the unit of the goal", "100 mm", "11 cm", 0.5, "11 cm"},
		{"with its words", "560 mm from butt", "530 mm from butt", 0.5, "545 mm from butt"},
		{"without a space", "560mm", "530mm", 0.5, "545mm"},
		{"inches", "4 in", "5.0 in", 0.5, "4.5 in"},
		{"feet and inches", "2 ft", "2 ft 6 in", 0.5, "27 in"},
		{"fractions", "4 in", "4 1/2 in from butt", 0.5, "4 1/4 in from butt"},
		{"the start", "620 mm", "545 mm", 0, "620 mm"},
		{"the goal", "620 mm", "545 mm", 1, "545 mm"},
		{"the same in other words", "2 ft", "609.6 mm", 0.5, "2 ft"},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := models.Between(lengthOf(t, row.a), lengthOf(t, row.b), row.way)
			if got.Text != row.want || got.Value != lengthOf(t, row.want).Value {
				t.Errorf("got %q, %v m, want %q", got.Text, float64(got.Value), row.want)
			}
		})
	}
}

// Quantities of every dimension that a blank is given in, however its unit is
// spelt.
func TestBetweenUnits(t *testing.T) {
	given := func(value float64, text string) models.Given[units.Rigidity] {
		return models.Given[units.Rigidity]{Value: units.Rigidity(value), Text: text}
	}
	for _, row := range []struct{ a, b, want string }{
		{"0.05 N·m2", "0.07 N·m2", "0.06 N·m2"}, {"0.05 N·m2", "0.07 N*m^2", "0.06 N*m^2"}, {"0.05 Nm²", "0.07 Nm²", "0.06 Nm²"},
	} {
		if got := models.Between(given(0.05, row.a), given(0.07, row.b), 0.5); got.Text != row.want || math.Abs(float64(got.Value)-0.06) > 1e-12 {
			t.Errorf("between %s and %s lies %q, %v", row.a, row.b, got.Text, float64(got.Value))
		}
	}
	got := models.Between(
		models.Given[units.Mass]{Value: 0.028, Text: "28 g"}, models.Given[units.Mass]{Value: 0.0283495, Text: "1 oz"}, 0.5)
	if got.Text != "1 oz" {
		t.Errorf("between 28 g and 1 oz lies %q", got.Text)
	}
	density := models.Between(
		models.Given[units.LineDensity]{Value: 0.009, Text: "9 g/m"}, models.Given[units.LineDensity]{Value: 0.012, Text: "12.0 g/m"}, 0.5)
	if density.Text != "10.5 g/m" {
		t.Errorf("between 9 g/m and 12.0 g/m lies %q", density.Text)
	}
}

// lengthOf is a length as a spec has it where it may say from where.
func lengthOf(t testing.TB, text string) models.Given[units.Length] {
	t.Helper()
	src := swapped(t, string(read(t, "good/skerry-10.yaml")), "reel: fixed-spool", "reel: {kind: fixed-spool, at: "+text+"}")
	return parsedModel(t, src).Reel.At
}

// Whatever lies between is no farther off than half a digit of what is written.
func TestBetweenLiesBetween(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		a := models.Millimetres(units.Length(rapid.IntRange(1, 3000).Draw(rt, "a")) / 1000)
		b := models.Millimetres(units.Length(rapid.IntRange(1, 3000).Draw(rt, "b")) / 1000)
		way := rapid.Float64Range(0, 1).Draw(rt, "way")
		got := models.Between(a, b, way)
		exact := float64(a.Value) + way*float64(b.Value-a.Value)
		if off := math.Abs(float64(got.Value) - exact); off > 0.5e-3+1e-9 {
			rt.Errorf("%v of the way from %s to %s is %s", way, a.Text, b.Text, got.Text)
		}
	})
}
