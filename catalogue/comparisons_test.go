package catalogue

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"rodlore/diffing"
)

// What a customer sees of a revision is against the last release before it,
// whatever was saved between.
func TestSightsAreBesideTheLastRelease(t *testing.T) {
	m := newMemory()
	m.then("a range", map[string]string{
		rangeFile: "maker: Test Rods\nsteps: {butt ring moves: 50 mm}\n", partsFile: testParts, materialsFile: testMaterials,
		"models/brook.yaml": testModel("Brook", "low-6@300 mm", "low-6@600 mm", "low-12@900 mm"),
	})
	m.then("a ring fewer", map[string]string{"models/brook.yaml": testModel("Brook", "low-6@300 mm", "low-12@900 mm")})
	m.log.Tags = []Tag{{Name: "brook/2021", State: m.log.Head}}
	m.then("the butt ring up", map[string]string{"models/brook.yaml": testModel("Brook", "low-6@300 mm", "low-12@860 mm")})
	m.then("a slip", map[string]string{"models/brook.yaml": strings.Replace(testModel("Brook"), "length: 2 m\n", "length: 2\n", 1)})
	m.then("further up", map[string]string{"models/brook.yaml": testModel("Brook", "low-6@300 mm", "low-12@820 mm")})
	steps, err := history(t, m.open(t), "brook")
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		why, seen string
		by        float64
		over      bool
	}{
		{"further up", "2021", 0.08, true}, {"a slip", "", 0, false}, {"the butt ring up", "2021", 0.04, false},
		{"a ring fewer", "", 0, false}, {"a range", "", 0, false},
	}
	for i, w := range want {
		s := steps[i]
		if s.Why != w.why || (s.Seen == nil) != (w.seen == "") {
			t.Fatalf("step %d is %q, seen beside %v; want %q beside %q", i, s.Why, s.Seen, w.why, w.seen)
		}
		if w.seen == "" {
			if len(s.Sights()) > 0 {
				t.Errorf("%s: seen beside nothing: %v", w.why, s.Sights())
			}
			continue
		}
		if len(s.Sights()) != 1 || s.Seen.Label() != w.seen {
			t.Fatalf("%s: beside %s a customer sees %v", w.why, s.Seen.Label(), s.Sights())
		}
		if got := s.Sights()[0]; got.Aspect != diffing.ButtRingPlace || math.Abs(got.Size-w.by) > 1e-9 || got.Over() != w.over || !got.Own {
			t.Errorf("%s: a customer sees %+v", w.why, got)
		}
	}
}

// Between the question whether specs are sound and their reading somebody may press
// Ctrl-C.
func TestComparedWhileInterrupted(t *testing.T) {
	ctx, interrupt := context.WithCancel(t.Context())
	m := twoModels()
	for _, place := range []string{"860 mm", "840 mm", "820 mm"} {
		m.then("the butt ring up", map[string]string{"models/brook.yaml": testModel("Brook", "low-6@300 mm", "low-12@"+place)})
	}
	r, err := Open(ctx, m)
	if err != nil {
		t.Fatal(err)
	}
	revs, err := r.Revisions("brook")
	if err != nil {
		t.Fatal(err)
	}
	for _, rev := range revs {
		if rev.Fault() != nil {
			t.Fatal(rev.Fault())
		}
	}
	interrupt()
	if step, err := r.Compare(ctx, revs[len(revs)-1], revs[0]); !errors.Is(err, context.Canceled) {
		t.Errorf("%+v, %v", step, err)
	}
}

// Two models are no step, and faults in the parts leave sizes to the specs.
func TestSightsOfTwoModels(t *testing.T) {
	m := twoModels()
	m.working[partsFile] = strings.Replace(testParts, "mass: 2.4 g", "mass: 2.4", 1)
	r := m.open(t)
	brook, err := r.Find("brook", "saved")
	if err != nil {
		t.Fatal(err)
	}
	ditch, err := r.Find("ditch", "saved")
	if err != nil {
		t.Fatal(err)
	}
	if s, err := r.Compare(t.Context(), brook, ditch); err != nil || s.Seen != nil || s.Sights() != nil {
		t.Errorf("of two models a customer sees %+v, %v", s, err)
	}
	if s, err := r.Compare(t.Context(), brook, brook); err != nil || s.Seen == nil || len(s.Sights()) > 0 {
		t.Errorf("of the same rod a customer sees %+v, %v", s, err)
	}
}
