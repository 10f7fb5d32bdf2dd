package evaluate

import (
	"fmt"
	"maps"
	"math"
	"strings"
	"testing"

	"rodlore/models"
	"rodlore/models/units"
)

// coarsely reads all figures of a rod on the coarse mesh.
func coarsely(t *testing.T, r *rod, set *models.Settings) values {
	t.Helper()
	b, err := r.free(coarseElements)
	if err != nil {
		t.Fatal(err)
	}
	p := newPass(r, set, b)
	solved, notes := p.solve(nil)
	if len(notes) > 0 {
		t.Fatal(notes)
	}
	v, err := p.read(solved)
	if err != nil {
		t.Fatal(err)
	}
	maps.Copy(v, r.count())
	return v
}

// TestShiftIsAnotherSpec holds that a shifted input gives the figures of a spec
// with another number in its place.
func TestShiftIsAnotherSpec(t *testing.T) {
	for _, tc := range []struct {
		name  string
		shift func(InputID) float64
		edit  func(*models.Spec, *models.Settings)
	}{
		{"outside of the butt", on(OutsideInput, "butt", 0.1e-3), func(s *models.Spec, _ *models.Settings) {
			for i := range s.Sections[0].Tube {
				s.Sections[0].Tube[i].Outside.Value += 0.1e-3
			}
		}},
		{"wall of the butt", on(WallInput, "butt", -0.05e-3), func(s *models.Spec, _ *models.Settings) {
			for i := range s.Sections[0].Tube {
				s.Sections[0].Tube[i].Wall.Value -= 0.05e-3
			}
		}},
		{"mandrel of the tip", on(OutsideInput, "tip", 0.1e-3), func(s *models.Spec, _ *models.Settings) {
			for i := range s.Sections[1].Rolled.Mandrel {
				s.Sections[1].Rolled.Mandrel[i].Mandrel.Value += 0.1e-3
			}
		}},
		{"ring moved", on(PositionInput, "DL-16", 5e-3), func(s *models.Spec, _ *models.Settings) {
			editRing(s, "DL-16", func(g *models.Ring) { g.At.Value += 5e-3 })
		}},
		{"part mass", on(MassInput, "DL-16", 0.2), func(s *models.Spec, _ *models.Settings) {
			s.Parts["DL-16"].Mass.Value *= 1.2
		}},
		{"whipping", on(WhippingInput, "DL-16", 4e-3), func(s *models.Spec, _ *models.Settings) {
			editRing(s, "DL-16", func(g *models.Ring) { g.Whipping.Value += 4e-3 })
		}},
		{"grip density", on(GripDensityInput, "cork", -0.1), func(s *models.Spec, _ *models.Settings) {
			s.Materials["cork"].Density.Value *= 0.9
		}},
		{"turn", on(TurnInput, "", 0.02), func(_ *models.Spec, set *models.Settings) { set.TestCurve.Turn.Value += 0.02 }},
		{"bonding", on(BondingInput, "", 0.2), func(s *models.Spec, set *models.Settings) {
			set.FootBonding.Value += 0.2
			for _, p := range s.Parts {
				if p.Foot.Bonding.Set() {
					p.Foot.Bonding.Value += 0.2
				}
			}
		}},
		{"damping", on(DampingInput, "", 0.5), func(_ *models.Spec, set *models.Settings) {
			set.Damping.Value *= units.Share(math.Exp(0.5))
		}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			s, set := goodSpec(t), models.DefaultSettings()
			inputs, shift := inputsOf(s, set), shifts{}
			for _, in := range inputs {
				if e := tc.shift(in.ID); e != 0 {
					shift[in.ID] = e
				}
			}
			if len(shift) == 0 {
				t.Fatal("no such input")
			}
			b, err := shifted(s, inputs, shift)
			if err != nil {
				t.Fatal(err)
			}
			r, err := assembleLike(nil, s, set, b)
			if err != nil {
				t.Fatal(err)
			}
			got := coarsely(t, r, set)
			tc.edit(s, set)
			if r, err = assemble(s, set); err != nil {
				t.Fatal(err)
			}
			for key, want := range coarsely(t, r, set) {
				near(t, key, got[key], want, 1e-9) // what the solvers leave
			}
		})
	}
}

// on shifts every input of that kind and thing.
func on(kind InputKind, of string, e float64) func(InputID) float64 {
	return func(id InputID) float64 {
		if id.Kind == kind && id.Of == of {
			return e
		}
		return 0
	}
}

func editRing(s *models.Spec, part string, edit func(*models.Ring)) {
	for i := range s.Rings {
		if s.Rings[i].Part.Text == part {
			edit(&s.Rings[i])
		}
	}
}

func TestShiftOfNothingThere(t *testing.T) {
	s, set := goodSpec(t), models.DefaultSettings()
	if _, err := shifted(s, inputsOf(s, set), shifts{{Kind: WallInput, Of: "middle"}: 1e-3}); err == nil {
		t.Error("a shift of an input that is not there is taken")
	}
}

// TestInputsShareErrors holds which inputs two specs have in common.
func TestInputsShareErrors(t *testing.T) {
	for _, tc := range []struct {
		name string
		edit func(*models.Spec)
		own  []string // kinds of the inputs that only the edited spec has, by their beginning
	}{
		{"nothing", func(*models.Spec) {}, nil},
		{"another reason to have it", func(s *models.Spec) { s.Job.Text = "other" }, nil},
		{"a thicker butt", func(s *models.Spec) { s.Sections[0].Tube[0].Wall.Value *= 1.1 },
			[]string{"outside of butt", "wall of butt", "modulus of", "hoop modulus of", "density of"}},
		{"a material said to bear more strain", func(s *models.Spec) { s.Materials["carbon-30t"].StrainCompression.Value *= 1.1 }, nil},
		{"a ring moved", func(s *models.Spec) { s.Rings[2].At.Value += 5e-3 }, []string{"ring position of", "whipping of"}},
		{"a ring re-weighed", func(s *models.Spec) { s.Parts["DL-16"].Mass.Value *= 1.1 }, []string{"part mass of DL-16"}},
		{"a longer whipping", func(s *models.Spec) { s.Rings[2].Whipping.Value += 1e-3 }, []string{"whipping of"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			s, set := goodSpec(t), models.DefaultSettings()
			before := map[InputID]bool{}
			for _, in := range exported(inputsOf(s, set)) {
				before[in.ID] = true
			}
			tc.edit(s)
			var own []string
			for _, in := range exported(inputsOf(s, set)) {
				if !before[in.ID] {
					own = append(own, string(in.ID.Kind)+" of "+in.ID.Of)
				}
			}
			if len(own) != len(tc.own) {
				t.Fatalf("inputs of its own: %q, want %q", own, tc.own)
			}
			for i, want := range tc.own {
				if !strings.HasPrefix(own[i], want) {
					t.Errorf("input of its own %q, want %q", own[i], want)
				}
			}
		})
	}
}

// TestInputsAreDistinct holds that two rings of one part scatter separately.
func TestInputsAreDistinct(t *testing.T) {
	s, set := goodSpec(t), models.DefaultSettings()
	seen := map[InputID]Note{}
	for _, in := range exported(inputsOf(s, set)) {
		if other, ok := seen[in.ID]; ok {
			t.Errorf("%v and %v are one input", in.Name, other)
		}
		seen[in.ID] = in.Name
	}
}

// shifts gives errors of a spec's inputs, each in the unit of its Input. An
// input that is not named has none.
type shifts map[InputID]float64

// shifted is the build with those errors.
func shifted(s *models.Spec, inputs []perturbation, errors shifts) (*build, error) {
	b := newBuild(s)
	used := 0
	for _, in := range inputs {
		if e, ok := errors[in.ID]; ok {
			*in.in(b) = e
			used++
		}
	}
	if used < len(errors) {
		return nil, fmt.Errorf("%s: the shift names %d inputs that the spec does not have", s.Name, len(errors)-used)
	}
	return b, nil
}
