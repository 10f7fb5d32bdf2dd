package demo_test

import (
	"maps"
	"math"
	"slices"
	"testing"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/models"
)

// step is a way from one spec to another.
type step struct {
	name     string
	old, new *models.Spec
}

// revisions gives every step between two neighbouring revisions of a model.
func revisions(t *testing.T) []step {
	t.Helper()
	last := map[string]*models.Spec{}
	var steps []step
	for _, s := range snapshots(t) {
		for _, name := range slices.Sorted(maps.Keys(s.specs)) {
			spec := s.specs[name]
			if spec == nil {
				continue // a state with a fault
			}
			if old := last[name]; old != nil && old.ID() != spec.ID() {
				steps = append(steps, step{name + "/" + s.day(), old, spec})
			}
			last[name] = spec
		}
	}
	return steps
}

// releases gives the step from the first release of a model to its last.
func releases(list []sale) step {
	first, last := list[0], list[len(list)-1]
	return step{first.release.Model + "/first to last", first.spec, last.spec}
}

// neighbours gives a step between every two models as they stand last; the way
// back has the same blends.
func neighbours(t *testing.T) []step {
	t.Helper()
	list := snapshots(t)
	specs := list[len(list)-1].specs
	names := slices.Sorted(maps.Keys(specs))
	var steps []step
	for i, a := range names {
		for _, b := range names[i+1:] {
			steps = append(steps, step{a + " to " + b, specs[a], specs[b]})
		}
	}
	return steps
}

// TestEveryBlendIsARod makes every combination of edits on the way between
// revisions, between first and last releases, and between any two models.
func TestEveryBlendIsARod(t *testing.T) {
	steps := slices.Concat(revisions(t), neighbours(t))
	for _, list := range sales(t) {
		steps = append(steps, releases(list))
	}
	if len(steps) < 50 {
		t.Fatalf("only %d steps", len(steps))
	}
	for _, s := range steps {
		t.Run(s.name, func(t *testing.T) {
			edits := diffing.Edits(diffing.Specs(s.old, s.new))
			for set := range 1 << len(edits) {
				taken := map[diffing.Group]bool{}
				for i, e := range edits {
					taken[e.Group] = set>>i&1 == 1
				}
				blend, err := diffing.Blend(s.old, s.new, taken)
				if err != nil {
					t.Fatalf("with %v: %v", taken, err)
				}
				if set == 0 && blend.ID() != s.old.ID() {
					t.Error("without any edit it is not the old spec")
				}
				if set == 1<<len(edits)-1 && blend.ID() != s.new.ID() {
					t.Error("with all edits it is not the new spec")
				}
			}
		})
	}
}

// TestSharesOfSixYears holds what the shares say of the Skerry 10 against what
// they must: fewer and lighter rings and a lighter handle took the weight off,
// the rings and nothing else the weight of rings, and all of it adds up.
func TestSharesOfSixYears(t *testing.T) {
	list := sales(t)["skerry-10"]
	s := releases(list)
	shares := shareOut(t, s)
	get := func(g diffing.Group, key string) float64 {
		for _, share := range shares.List {
			if share.Group == g {
				return share.Figures[key]
			}
		}
		t.Fatalf("no share of %s", g)
		return 0
	}
	for _, g := range []diffing.Group{diffing.RingPattern, diffing.RingParts, diffing.Handle} {
		if v := get(g, "weight"); v > -4*gram {
			t.Errorf("%s takes off %.2g g, want more than 4 g", g, -v/gram)
		}
	}
	if v := get(diffing.Handle, "ring-weight"); v != 0 {
		t.Errorf("the handle brings %v kg of rings", v)
	}
	if v := get(diffing.RingPattern, "rings"); v != -3 {
		t.Errorf("the pattern brings %v rings, want −3", v)
	}
	for _, f := range list[len(list)-1].figures.List {
		sum := 0.0
		for _, share := range shares.List {
			sum += share.Figures[f.Key]
		}
		change := f.Value - list[0].get(t, f.Key)
		if math.Abs(sum-change) > 1e-9*math.Abs(change) && math.Abs(change) > f.Error {
			t.Errorf("%s: the shares add up to %v, the change is %v", f.Key, sum, change)
		}
	}
}

// shareOut shares out the figures' change by the range's last settings.
func shareOut(t *testing.T, s step) *diffing.Shares {
	t.Helper()
	list := snapshots(t)
	shares, err := diffing.Compare(s.old, s.new).ShareOut(t.Context(), func(spec *models.Spec) (*evaluate.Figures, error) {
		return evaluate.New(spec, list[len(list)-1].settings).Figures()
	})
	if err != nil {
		t.Fatal(err)
	}
	return shares
}

// BenchmarkShareOut shares out the change of all figures among six edits of the
// demo's spinning rod, which takes 64 rods: what became of it in five years, on
// the old butt section with the old joint.
func BenchmarkShareOut(b *testing.B) {
	list, err := history()
	if err != nil {
		b.Fatal(err)
	}
	set := list[len(list)-1].settings
	var specs []*models.Spec // of the releases
	for _, s := range list {
		for _, r := range s.Releases {
			if r.Model == "skerry-10" {
				specs = append(specs, s.specs[r.Model])
			}
		}
	}
	old := specs[0]
	now, err := diffing.Blend(old, specs[len(specs)-1], map[diffing.Group]bool{
		diffing.BlankOf("tip"): true, diffing.RingPattern: true, diffing.RingParts: true, diffing.Finish: true,
		diffing.Handle: true, diffing.SharedBy("SL-8"): true,
	})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		shares, err := diffing.Compare(old, now).ShareOut(b.Context(), func(s *models.Spec) (*evaluate.Figures, error) { return evaluate.New(s, set).Figures() })
		if err != nil || len(shares.List) != 6 {
			b.Fatalf("%d shares: %v", len(shares.List), err)
		}
	}
}
