package evaluate

import (
	"errors"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"rodlore/models"
)

// TestNineRingsOfTheCreek holds the spec on which limits that exclude each other
// were once taken for a pattern with rings beyond the tip.
func TestNineRingsOfTheCreek(t *testing.T) {
	const file = "../testdata/reference/creek-7.yaml"
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	parts, materials := demoShared(t)
	s, err := models.ParseSpec(file, src, parts, materials)
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(s, models.DefaultSettings()).Patterns()
	if err != nil {
		t.Fatal(err)
	}
	for count := FewestRings; count <= 12; count++ {
		checkAtRest(t, p, count)
	}
	checkAtRest(t, p, 20) // the upper rings leave where they would not stay ever faster
	l, err := newLayout(p, 9, 0)
	if err != nil {
		t.Fatal(err)
	}
	if err := l.bend(); err != nil {
		t.Fatal(err)
	}
	var e *crampedError
	if _, err := l.search([]side{{6, 0, towardsTip}, {6, 0, towardsButt}}); !errors.As(err, &e) {
		t.Fatalf("a ring that is to stand on both sides of a joint gives %v", err)
	}
	if said := l.tellCramped(e).Error(); !strings.Contains(said, "clear of the joint of butt and tip") {
		t.Errorf("nothing names the joint: %s", said)
	}
}

// TestPatternsComeToRest lays out patterns on the demo's rods and on random ones. Each
// either comes to rest within the limits or does not fit.
func TestPatternsComeToRest(t *testing.T) {
	for _, name := range demoModels {
		p, err := New(demoSpec(t, name), models.DefaultSettings()).Patterns()
		if err != nil {
			t.Fatal(err)
		}
		for count := FewestRings; count <= 16; count++ {
			checkAtRest(t, p, count)
		}
		for count := 17 + len(name)%3; count <= MostRings; count += 6 { // where rings soon touch
			checkAtRest(t, p, count)
		}
	}
	for seed := range uint64(56) {
		p, err := New(randomRod(t, seed), models.DefaultSettings()).Patterns()
		if err != nil {
			t.Fatal(err)
		}
		checkAtRest(t, p, 3+int(seed*5%16))
	}
}

func checkAtRest(t *testing.T, p *Patterns, count int) {
	t.Helper()
	l, err := newLayout(p, count, 0)
	if err != nil {
		t.Fatal(err)
	}
	if err := l.settle(); err != nil {
		if !strings.Contains(err.Error(), "do not fit") {
			t.Errorf("%s, %d rings: %v", p.spec.Name, count, err)
		}
		return
	}
	if l.unrest > 0 {
		t.Errorf("%s, %d rings would still move by %.2f mm", p.spec.Name, count, 1e3*l.unrest)
	}
	last := len(l.at) - 1
	if !slices.IsSorted(l.at) || l.at[0] <= 0 || math.IsNaN(l.at[last]) {
		t.Errorf("%s, %d rings stand at %v", p.spec.Name, count, l.at)
	}
	for _, c := range l.limits(l.sides) {
		if short := c.Bound - c.Value(l.at[:last]); short > 1e-9 {
			t.Errorf("%s, %d rings: a limit is missed by %g m", p.spec.Name, count, short)
		}
	}
}
