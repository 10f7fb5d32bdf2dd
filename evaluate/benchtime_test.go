package evaluate_test

import (
	"testing"

	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/models/units"
)

func TestBenchTime(t *testing.T) {
	// By the built-in times: tip ring 5, eight rings of 3 with sixteen whippings
	// of 9, a joint 15, a grip 20, a seat 20, varnish 30, in minutes.
	const want = 5 + 8*3 + 16*9 + 15 + 20 + 20 + 30
	for _, row := range []struct {
		name  string
		edit  func(*models.Spec, *models.Settings)
		delta float64 // min
	}{
		{"built-in times", func(*models.Spec, *models.Settings) {}, 0},
		{"a whipped tip ring", func(s *models.Spec, _ *models.Settings) {
			s.Rings[0].Whipping = models.Given[units.Length]{Value: 8e-3, Text: "8 mm"}
		}, 9},
		{"two rings fewer", func(s *models.Spec, _ *models.Settings) { s.Rings = s.Rings[:7] }, -2 * (3 + 2*9)},
		{"no varnish", func(s *models.Spec, _ *models.Settings) { s.Finish.Varnish = models.Word{} }, -30},
		{"a butt cap", func(s *models.Spec, _ *models.Settings) { s.Handle.Cap.Part = models.Word{Text: "seat"} }, 5},
		{"slower hands", func(_ *models.Spec, set *models.Settings) { set.BenchTimes.Foot.Value = 12 * 60 }, 16 * 3},
	} {
		t.Run(row.name, func(t *testing.T) {
			s, set := plainRod(t, 100, eight...), models.DefaultSettings()
			row.edit(s, set)
			figs, err := evaluate.New(s, set).Figures()
			if err != nil {
				t.Fatal(err)
			}
			got, ok := figs.Get("bench-time")
			if !ok || got.Value != 60*(want+row.delta) || got.Error != 0 || got.Unit != "s" {
				t.Errorf("%+v, want %g min", got, want+row.delta)
			}
		})
	}
}
