package models_test

import (
	"testing"

	"rodlore/models"
)

func TestWithRings(t *testing.T) {
	s := good(t, "skerry-10")
	rings := []models.Ring{s.Rings[0], s.Rings[2]}
	got, err := s.WithRings(rings)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Rings) != 2 || len(s.Rings) == 2 {
		t.Errorf("it has %d rings, and the spec it was made of %d", len(got.Rings), len(s.Rings))
	}
	used := map[string]bool{}
	for _, g := range rings {
		used[g.Part.Text] = true
	}
	for name, p := range got.Parts {
		if p.Kind == models.RingPart && !used[name] {
			t.Errorf("%s is no ring of it and among its parts", name)
		}
	}
	back, err := s.WithRings(s.Rings)
	if err != nil || back.ID() != s.ID() {
		t.Errorf("with the same rings it is another rod: %v", err)
	}
	rings[1].Part.Text = "no such ring"
	if _, err := s.WithRings(rings); err == nil {
		t.Error("a ring that the spec does not know is taken")
	}
}
