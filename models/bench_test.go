package models_test

import (
	"math"
	"strings"
	"testing"

	"rodlore/models"
)

// sheet is a file of bench/ with those lines under measured.
func sheet(lines ...string) []byte {
	return []byte("model: skerry-10\nrod: 0147\ndate: 2026-11-07\nof: 2026\nmeasured:\n  - " + strings.Join(lines, "\n  - ") + "\n")
}

func TestParseBench(t *testing.T) {
	const hung = 9.80665 // N by a kilogram: 3rd CGPM (1901)
	for _, tt := range []struct {
		line             string
		what             models.Measure
		value, deviation float64
	}{
		{"{weight: 165.8 g ± 0.5 g}", models.WeightMeasure, 0.1658, 0.0005},
		{"{weight: 165.8 g +/- 0.5 g}", models.WeightMeasure, 0.1658, 0.0005},
		{"{weight: 48.2 g, section: tip}", models.WeightMeasure, 0.0482, 0.0001},
		{"{weight: 5 3/4 oz ± 1 %}", models.WeightMeasure, 5.75 / 16 * 0.45359237, 5.75 / 16 * 0.0045359237},
		{"{balance: 842 mm}", models.BalanceMeasure, 0.842, 0.001},
		{"{pendulum: 41.3 s, swings: 20, pivot: 10 mm, section: tip}", models.PendulumMeasure, 41.3, 0.2},
		{"{drop: 472 mm, load: 100 g}", models.DropMeasure, 0.472, 0.001},
		{"{drop: 181 mm ± 3 mm, load: 1 N, at: 600 mm from tip}", models.DropMeasure, 0.181, 0.003},
		{"{third load: 228 g}", models.ThirdLoadMeasure, 0.228 * hung, 0.00228 * hung},
		{"{test curve: 1 1/2 lb ± 2 oz}", models.TestCurveMeasure, 1.5 * 0.45359237 * hung, 0.125 * 0.45359237 * hung},
		{"{oscillations: 31, in: 10 s}", models.CountMeasure, 31, 0.5},
		{"{oscillations: 31 ± 1, in: 10 s}", models.CountMeasure, 31, 1},
		{"{settle: 7 s}", models.SettleMeasure, 7, 0.7},
		{"{trace: [{x: 1 m, y: 80 mm}, {x: 2 m, y: 500 mm}], load: 200 g}", models.TraceMeasure, 0, 0.003},
		{"{trace: [{x: 1 m, y: -8 mm}], load: 200 g, within: 5 mm}", models.TraceMeasure, 0, 0.005},
	} {
		t.Run(tt.line, func(t *testing.T) {
			b, err := models.ParseBench("skerry.yaml", sheet(tt.line))
			if err != nil {
				t.Fatal(err)
			}
			m := b.Measured[0]
			// A bit or two for the deviation that is a product.
			if m.What != tt.what || m.Value != tt.value || math.Abs(m.Deviation-tt.deviation) > 1e-15 {
				t.Errorf("got %s of %v ± %v, want %s of %v ± %v", m.What, m.Value, m.Deviation, tt.what, tt.value, tt.deviation)
			}
			if b.Rod.Text != "0147" || b.Of.Text != "2026" || b.Date.Day.Format("2 January 2006") != "7 November 2026" {
				t.Errorf("got rod %q of %q on %v", b.Rod, b.Of, b.Date.Day)
			}
		})
	}
}

func TestBenchFaults(t *testing.T) {
	for _, tt := range []struct{ name, line, want string }{
		{"no reading", "{section: tip}", `6:5: measured[1]: has no reading; expected one of weight, balance, pendulum, drop, third load, test curve, oscillations, settle or trace, each measurement on a line of its own`},
		{"two readings", "{weight: 160 g, balance: 840 mm}", `6:5: measured[1]: has weight and balance at once; expected one of weight, balance, pendulum, drop, third load, test curve, oscillations, settle or trace, each measurement on a line of its own`},
		{"no load", "{drop: 470 mm}", `6:5: measured[1].load: is missing; expected it with drop, as in {drop: 472 mm, load: 100 g}`},
		{"no time", "{oscillations: 31}", `6:5: measured[1].in: is missing; expected it with oscillations, as in {oscillations: 31, in: 10 s}`},
		{"what does not go with it", "{weight: 160 g, load: 100 g}", `6:21: measured[1].load: does not go with weight`},
		{"wrong unit", "{weight: 160 mm}", `6:14: measured[1].weight: "160 mm" is a length; expected a mass such as 12 g`},
		{"deviation of another kind", "{weight: 160 g ± 1 mm}", `6:14: measured[1].weight: "1 mm" is a length; expected a mass such as 12 g`},
		{"no deviation", "{weight: 160 g ± 0 g}", `6:14: measured[1].weight: "0 g" is zero; expected more than 0 and at most what was read`},
		{"share of nothing", "{drop: 0 mm ± 1 %, load: 100 g}", `6:12: measured[1].drop: a share of nothing is no deviation; write it as a quantity`},
		{"no points", "{trace: [], load: 100 g}", `6:13: measured[1].trace: is an empty list; expected a list of entries such as {x: 1200 mm, y: 160 mm}`},
		{"unknown key", "{wieght: 160 g}", `6:6: measured[1].wieght: unknown key "wieght"; did you mean weight?`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := models.ParseBench("b.yaml", sheet(tt.line))
			if err == nil {
				t.Fatal("no fault")
			}
			if !strings.Contains(err.Error()+"\n", "b.yaml:"+tt.want+"\n") {
				t.Errorf("got\n%v\nwant\nb.yaml:%s", err, tt.want)
			}
		})
	}
}

func TestBenchFaultsAllAtOnce(t *testing.T) {
	_, err := models.ParseBench("b.yaml", []byte("model: skerry-10\ndate: 7 November\nmeasured:\n  - {weight: 160}\n  - {drop: 470 mm}\n"))
	want := `b.yaml:1:1: rod: is missing; expected a word
b.yaml:2:7: date: "7 November" is not a day such as 2026-11-07
b.yaml:4:14: measured[1].weight: "160" has no unit; write it with one, such as 160 g
b.yaml:5:5: measured[2].load: is missing; expected it with drop, as in {drop: 472 mm, load: 100 g}`
	if err == nil || err.Error() != want {
		t.Errorf("got\n%v\nwant\n%s", err, want)
	}
}

func TestFittedFaults(t *testing.T) {
	for _, tt := range []struct{ name, block, want string }{
		{"unknown section", "fitted: {to: rod 1, date: 2026-11-07, wall: {tpi: 0.01 mm}}",
			`fitted.wall.tpi: no section is named "tpi"; did you mean tip?`},
		{"no date", "fitted: {to: rod 1}", `fitted.date: is missing; expected a day such as 2026-11-07`},
		{"absolute modulus", "fitted: {to: rod 1, date: 2026-11-07, modulus: {tip: 98 GPa}}",
			`fitted.modulus.tip: "98 GPa" is a modulus; expected a share such as 3 %`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := models.ParseModel("skerry-10.yaml", append(read(t, "good/skerry-10.yaml"), tt.block...))
			if err == nil || !strings.HasSuffix(err.Error(), tt.want) {
				t.Errorf("got %v, want …%s", err, tt.want)
			}
		})
	}
}

func TestUnfitted(t *testing.T) {
	const block = "fitted: {to: rod 1, date: 2026-11-07, wall: {tip: 0.01 mm}}\n"
	plain, src := good(t, "skerry-10"), append(read(t, "good/skerry-10.yaml"), block...)
	fitted := resolved(t, src)
	if fitted.ID() == plain.ID() {
		t.Error("a fit is no change of the spec")
	}
	if fitted.Unfitted().ID() != plain.ID() {
		t.Error("without its fit the spec is another")
	}
	if fitted.Fitted == nil {
		t.Error("the fitted spec lost its fit")
	}
}
