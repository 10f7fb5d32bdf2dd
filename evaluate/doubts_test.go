package evaluate_test

import (
	"slices"
	"testing"

	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/models/units"
)

// TestDoubts holds that slips which give a rod on paper and none at the bench
// are noted, and that a sound rod gives no note.
func TestDoubts(t *testing.T) {
	notes := func(change func(*models.Spec)) []evaluate.Note {
		s := plainRod(t, 100, eight...)
		s.Reel.Height = models.Given[units.Length]{Value: 0.06, Text: "60 mm"}
		s.Sections[1].Tube[1].Outside.Value = 9.4e-3 // a bore of 7.8 mm on a butt of 7.83 mm
		change(s)
		return evaluated(t, s).Notes
	}
	for _, row := range []struct {
		name, want string
		change     func(*models.Spec)
	}{
		{"a butt ten times too thick", "overlap", func(s *models.Spec) { s.Sections[0].Tube[0].Outside.Value *= 10 }},
		{"a wall in the wrong unit", "overlap", func(s *models.Spec) { s.Sections[1].Tube[1].Wall.Value /= 25.4 }},
		{"rings too near each other", "crowded feet", func(s *models.Spec) { s.Rings[3].At.Value = s.Rings[2].At.Value + 0.03 }},
		{"a grip over the seat", "crowded seat", func(s *models.Spec) { s.Handle.Grips[0].To.Value = 0.45 }},
		{"a ring's foot over the tip", "loose foot", func(s *models.Spec) { s.Rings[1].At.Value = 0.004 }},
		{"a grip ten times too thin", "thin grip", func(s *models.Spec) { s.Handle.Grips[0].Diameter.Value /= 10 }},
		{"a wall like a foil", "thin wall", func(s *models.Spec) { s.Sections[1].Tube[0].Wall.Value = 0.1e-3 }},
		{"a taper the wrong way", "thins", func(s *models.Spec) { s.Sections[0].Tube[1].Outside.Value = s.Sections[0].Tube[0].Outside.Value - 1e-3 }},
		{"an outside that jumps", "jumps", func(s *models.Spec) {
			tip := &s.Sections[1]
			jump := tip.Tube[1]
			jump.At.Value, jump.At.Text = tip.Tube[0].At.Value+0.02, "20 mm"
			tip.Tube = slices.Insert(slices.Clone(tip.Tube), 1, jump)
		}},
		{"a joint of a thumb's breadth", "short joint", func(s *models.Spec) { s.Joints[0].Length.Value = 0.02 }},
		{"a modulus in the wrong unit", "stiff", func(s *models.Spec) { stuffed(s, 105e12) }},
		{"a modulus in MPa", "soft", func(s *models.Spec) { stuffed(s, 105e6) }},
		{"a plug too thick", "plug", func(s *models.Spec) {
			s.Joints[0].Kind, s.Joints[0].Outside.Value, s.Joints[0].Material = models.Spigot, 20e-3, s.Sections[0].Material
		}},
	} {
		got := notes(row.change)
		if !slices.ContainsFunc(got, func(n evaluate.Note) bool { return n.Key == "doubts."+row.want }) {
			t.Errorf("%s: the notes are %q, want one of %q", row.name, got, row.want)
		}
	}
	if got := notes(func(*models.Spec) {}); len(got) != 0 {
		t.Errorf("a sound rod gives the notes %q", got)
	}
}

// stuffed gives the tip a material of its own of that modulus, Pa.
func stuffed(s *models.Spec, modulus units.Stress) {
	m := *s.Materials[s.Sections[1].Material.Text]
	m.Name, m.Modulus.Value = "odd", modulus
	s.Materials["odd"] = &m
	s.Sections[1].Material.Text = "odd"
}

func TestWants(t *testing.T) {
	s := plainRod(t, 100, eight...)
	f := evaluated(t, s)
	weight := value(t, f, "weight")
	s.Wants = []models.Want{
		{Figure: "weight", Text: "at most this", Min: 0, Max: weight},
		{Figure: "recovery", Text: "more than any", Min: 1e3, Max: 1e9},
		{Figure: "line-of-sight", Text: "at most 1 m", Max: 1},
	}
	got := evaluate.Wants(s, f)
	if !got[0].Met || got[1].Met || got[2].Met || got[2].Known || !got[1].Known {
		t.Errorf("wants stand as %+v", got)
	}
}
