package evaluate

import (
	"math"
	"testing"

	"rodlore/models"
	"rodlore/models/units"
)

// TestFittedIsAnotherBuild holds that a spec fitted to a rod has the figures of
// the rod that came out so, and that errors of the rod come on top.
func TestFittedIsAnotherBuild(t *testing.T) {
	s, set := goodSpec(t), models.DefaultSettings()
	of := models.Word{Text: s.Sections[1].Name.Text}
	fitted := func(modulus, wall, bonding, damping float64) *models.Spec {
		m := *s.Model
		m.Fitted = &models.Fitted{Came: models.Came{
			Modulus:     []models.OfSection[units.Share]{{Section: of, By: models.Given[units.Share]{Value: units.Share(modulus)}}},
			Wall:        []models.OfSection[units.Length]{{Section: of, By: models.Given[units.Length]{Value: units.Length(wall)}}},
			FootBonding: models.Given[units.Share]{Value: units.Share(bonding)},
			Damping:     models.Given[units.Share]{Value: units.Share(damping)},
		}}
		return &models.Spec{Model: &m, Parts: s.Parts, Materials: s.Materials}
	}
	read := func(s *models.Spec, come func(*build)) values {
		b := newBuild(s)
		come(b)
		r, err := assembleLike(nil, s, set, b)
		if err != nil {
			t.Fatal(err)
		}
		return coarsely(t, r, set)
	}
	got := read(fitted(0.05, 2e-5, 0.1, 0.2), func(b *build) { b.sections[1].wall = 1e-5 })
	want := read(s, func(b *build) {
		for i := range b.sections[1].modulus {
			b.sections[1].modulus[i] = 0.05
		}
		b.sections[1].wall, b.bonding, b.damping = 3e-5, 0.1, math.Log(1.2)
	})
	for key, w := range want {
		// One rod worked out on two ways round.
		if g := got[key]; math.Abs(g-w) > 1e-9*math.Abs(w) {
			t.Errorf("%s: got %v, want %v", key, g, w)
		}
	}
}
