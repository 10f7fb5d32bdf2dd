package telling_test

import (
	"context"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/cmd/rodlore/demo"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// rods are the rods of the demo in every state of it.
func rods(t *testing.T) (list []*models.Spec, set *models.Settings) {
	t.Helper()
	states, err := demo.States()
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, state := range states {
		maps.Copy(files, state.Files)
		parts, err := models.ParseParts("parts.yaml", files["parts.yaml"])
		if err != nil {
			continue // the demo has states with faults
		}
		materials, err := models.ParseMaterials("materials.yaml", files["materials.yaml"])
		if err != nil {
			continue
		}
		if set, err = models.ParseSettings("range.yaml", files["range.yaml"]); err != nil {
			t.Fatal(err)
		}
		for path := range state.Files {
			if !strings.HasPrefix(path, "models/") || files[path] == nil {
				continue
			}
			model, err := models.ParseModel(path, files[path])
			if err != nil {
				continue
			}
			if spec, err := models.Resolve(model, parts, materials); err == nil {
				list = append(list, spec)
			}
		}
	}
	return list, set
}

// TestSamenessIsProven holds, for pairs of rods taken at random, that nothing is
// said to be the same unless all but few pairs of rods built to them lie within what
// an angler notices, that nothing is said to be the same and to have changed, and
// that no change by design of more than is noticed goes untold.
func TestSamenessIsProven(t *testing.T) {
	all, set := rods(t)
	if len(all) < 20 {
		t.Fatalf("%d rods", len(all))
	}
	teller := telling.Teller{Teller: say.Teller{Words: say.English(), Display: set.Display()}}
	r := rand.New(rand.NewPCG(11, 3))
	same, silent := 0, 0 // figures said to be the same, and those of which nothing is said
	for range 25 {
		i := r.IntN(len(all))
		j := r.IntN(len(all))
		if r.IntN(2) == 0 { // rods that stand near each other have more in common
			j = (i + 1) % len(all)
		}
		old, now := evaluated(t, all[i], set), evaluated(t, all[j], set)
		if old == nil || now == nil {
			continue
		}
		step := &catalogue.Step{Figures: now, Shifts: diffing.Figures(old, now, set)}
		done, stayed := teller.Done(step, figures.Keys(figures.Every)), teller.Same(step)
		for _, s := range step.Shifts {
			if !s.Both() {
				continue
			}
			said := teller.Shift(s)
			claim := said == teller.Say("shifts."+s.Key+".same")
			change := s.InPairs()
			known := !math.IsNaN(change.Tolerance)
			switch {
			case claim && (!known || math.Abs(change.Mean)+change.Tolerance > s.Noticed+1e-12 && s.Change != 0):
				t.Errorf("%s is said to be the same, and changes by %g ± %g where %g is noticed", s.Key, change.Mean, change.Tolerance, s.Noticed)
			case claim && slices.Contains(done, said), slices.Contains(stayed, said) && !claim:
				t.Errorf("%s is said to have changed and to be the same", s.Key)
			case !claim && math.Abs(s.Change) > s.Noticed+s.Error && known && change.Against < 0.5 && said == "":
				t.Errorf("%s changes by design by %g where %g is noticed, and nothing is said", s.Key, s.Change, s.Noticed)
			}
			switch {
			case claim:
				same++
			case said == "":
				silent++
			}
		}
	}
	if same < 50 || silent < 20 {
		t.Errorf("too few cases: %d the same, %d untold", same, silent)
	}
}

// evaluated are the figures of a rod with tolerances; nil where it gives none.
func evaluated(t *testing.T, s *models.Spec, set *models.Settings) *evaluate.Figures {
	t.Helper()
	f, err := evaluate.New(s, set).FiguresWithTolerances(context.Background())
	if err != nil {
		return nil
	}
	return f
}

// Figures of rods that stand below each other are in one unit, whatever suits each.
func TestValuesInOneUnit(t *testing.T) {
	rod := func(newtons float64) *evaluate.Figures {
		return &evaluate.Figures{List: []evaluate.Figure{{Key: "test-curve", Unit: "N", Value: newtons}}}
	}
	teller := telling.Teller{Teller: say.English().Teller(models.DefaultSettings())}
	got := teller.Values([]*evaluate.Figures{rod(19.1), rod(21.2), {}}, []string{"weight", "test-curve"})
	want := [][]string{{"", "1.95 kg (4.29 lb)"}, {"", "2.16 kg (4.77 lb)"}, {"", ""}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
