package main

import (
	"fmt"
	"strings"
	"testing"

	"rodlore/evaluate"
)

// TestPatternsOfTheDemo lays patterns out on every model of the demo: three to
// fifteen rings, on top of the bend and inside it, on one joint and on three.
func TestPatternsOfTheDemo(t *testing.T) {
	for _, model := range []string{"ferry-8", "groyne-13", "overfall-11", "rill-7", "skerry-10", "wrack-9"} {
		t.Run(model, func(t *testing.T) {
			t.Parallel()
			spec, set := demoRod(t, model)
			p, err := evaluate.NewPatterns(spec, set)
			if err != nil {
				t.Fatal(err)
			}
			present, err := p.Present()
			if err != nil {
				t.Fatal(err)
			}
			for count := 3; count <= 15; count++ {
				laid, err := p.Lay(count, 0)
				if err != nil {
					t.Error(err)
					continue
				}
				// What a layout is kept to it must not break.
				if said := strings.Join(laid.Binding, "; "); strings.Contains(said, "stands within") || strings.Contains(said, "shrinks") || strings.Contains(said, " touch") {
					t.Errorf("%d rings: %s", count, said)
				}
				if count == len(present.Rings)-1 {
					checkImproved(t, present, laid)
				}
			}
		})
	}
}

// checkImproved checks that a layout of the same count is no worse in what it is
// laid out for.
func checkImproved(t *testing.T, present, laid *evaluate.Pattern) {
	for _, key := range []string{"ring-turn-spread", "line-touch"} {
		a, _ := present.Figures.Get(key)
		b, ok := laid.Figures.Get(key)
		if !ok || b.Value > a.Value {
			t.Errorf("%s goes from %s to %s", key, fmt.Sprint(a.Value), fmt.Sprint(b.Value))
		}
	}
}
