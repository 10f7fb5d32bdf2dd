package demo_test

import (
	"testing"

	"rodlore/cmd/rodlore/demo"
	"rodlore/evaluate"
	"rodlore/models"
)

// sale is one release with its figures.
type sale struct {
	release demo.Release
	spec    *models.Spec
	figures *evaluate.Figures
}

// get gives a figure, which must be there.
func (s sale) get(t *testing.T, key string) float64 {
	t.Helper()
	f, ok := s.figures.Get(key)
	if !ok {
		t.Fatalf("%s %s has no %s: %v", s.release.Model, s.release.Label, key, s.figures.Notes)
	}
	return f.Value
}

// sales gives every release, oldest first, by the model's last name.
func sales(t *testing.T) map[string][]sale {
	t.Helper()
	list := map[string][]sale{}
	for _, s := range snapshots(t) {
		for _, r := range s.Releases {
			spec := s.specs[r.Model]
			f, err := evaluate.New(spec, s.settings).Figures()
			if err != nil {
				t.Fatal(err)
			}
			name := r.Model
			if name == "satchel-8" {
				name = "ferry-8"
			}
			list[name] = append(list[name], sale{r, spec, f})
		}
	}
	return list
}

const (
	pound = 0.45359237 * 9.80665 // N hung by a pound, exact
	gram  = 1e-3                 // kg
)

// TestReleasesAreLikeRodsOfTheirKind holds every release against what rods of
// its kind weigh, how fast they swing and how hard they pull (common practice,
// no source; the trade's own figures scatter by a quarter and more).
func TestReleasesAreLikeRodsOfTheirKind(t *testing.T) {
	type span struct{ from, to float64 }
	kinds := map[string]map[string]span{
		"skerry-10": {"weight": {160 * gram, 210 * gram}, "recovery": {2.5, 4}, "test-curve": {1.25 * pound, 1.75 * pound}},
		"wrack-9":   {"weight": {130 * gram, 170 * gram}, "recovery": {2.5, 4.5}, "test-curve": {1 * pound, 1.6 * pound}},
		"groyne-13": {"weight": {450 * gram, 550 * gram}, "recovery": {2, 3.5}, "test-curve": {3.5 * pound, 6 * pound}},
		"rill-7":    {"weight": {70 * gram, 110 * gram}, "recovery": {2.5, 6}, "test-curve": {0.5 * pound, 1 * pound}},
		"ferry-8":   {"weight": {110 * gram, 150 * gram}, "recovery": {2.5, 5}, "test-curve": {1 * pound, 1.75 * pound}},
	}
	for name, list := range sales(t) {
		for _, s := range list {
			t.Run(s.release.Model+"/"+s.release.Label, func(t *testing.T) {
				for key, want := range kinds[name] {
					if got := s.get(t, key); got < want.from || got > want.to {
						t.Errorf("%s is %.4g, want %.4g to %.4g", key, got, want.from, want.to)
					}
				}
			})
		}
	}
}

// TestReleasesMeetTheirWants holds that what went on sale was fit for its job.
func TestReleasesMeetTheirWants(t *testing.T) {
	for _, list := range sales(t) {
		for _, s := range list {
			for _, w := range s.spec.Wants {
				if got := s.get(t, w.Figure); got < w.Min || got > w.Max {
					t.Errorf("%s %s: %s is %.4g, want %s", s.release.Model, s.release.Label, w.Figure, got, w.Text)
				}
			}
		}
	}
}

// TestShowpieceGetsBetterEveryYear holds what the history of the Skerry 10
// tells: each release is lighter than the one before by some grams, swings
// back faster and has less of its bend taken out by rings and joints, while
// its power stays. Fewer rings on the same blank do that (common practice, no
// source).
func TestShowpieceGetsBetterEveryYear(t *testing.T) {
	list := sales(t)["skerry-10"]
	first := list[0].get(t, "third-load")
	for i, s := range list[1:] {
		before := list[i]
		t.Run(s.release.Label, func(t *testing.T) {
			if less := before.get(t, "weight") - s.get(t, "weight"); less < 1*gram || less > 10*gram {
				t.Errorf("%.1f g lighter, want 1 to 10 g", less/gram)
			}
			if was, is := before.get(t, "recovery"), s.get(t, "recovery"); is <= was {
				t.Errorf("recovery went from %.3f to %.3f Hz, want faster", was, is)
			}
			if was, is := before.get(t, "flat-turn"), s.get(t, "flat-turn"); is >= was {
				t.Errorf("flat turn went from %.4f to %.4f rad, want less", was, is)
			}
			// One part in fifty: far inside the scatter of blanks, which the
			// trade puts at a tenth.
			if now := s.get(t, "third-load"); now < 0.98*first || now > 1.02*first {
				t.Errorf("third load is %.3f N, in the first release %.3f N", now, first)
			}
		})
	}
}
