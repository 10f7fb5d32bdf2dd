package main

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// TestPatternsOfTheDemo lays patterns out on every model of the demo: three to
// fifteen rings, on top of the bend and inside it, on one joint and on three.
func TestPatternsOfTheDemo(t *testing.T) {
	for _, model := range []string{"ferry-8", "groyne-13", "overfall-11", "rill-7", "skerry-10", "wrack-9"} {
		t.Run(model, func(t *testing.T) {
			t.Parallel()
			spec, set := demoRod(t, model)
			p, err := evaluate.New(spec, set).Patterns()
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
				for _, n := range laid.Binding {
					if slices.Contains([]string{"binding.on joint", "binding.shrinks", "binding.touch"}, n.Key) {
						t.Errorf("%d rings: %v", count, n)
					}
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

// TestWrittenPatternsAreThoseShown holds that a pattern's lines in a spec's text
// make the very rod that was worked out.
func TestWrittenPatternsAreThoseShown(t *testing.T) {
	for _, model := range []string{"ferry-8", "groyne-13", "skerry-10"} {
		t.Run(model, func(t *testing.T) {
			files, path := demoFiles(t), "models/"+model+".yaml"
			spec, set := demoRod(t, model)
			p, err := evaluate.New(spec, set).Patterns()
			if err != nil {
				t.Fatal(err)
			}
			for _, change := range []int{-2, 0, 2} {
				for _, butt := range []float64{0, 1.5006} {
					laid, err := p.Lay(len(spec.Rings)-1+change, butt)
					if err != nil {
						t.Fatal(err)
					}
					text, err := models.SpliceRings(path, files[path], laid.Spec.Rings)
					if err != nil {
						t.Fatal(err)
					}
					written := maps.Clone(files)
					written[path] = text
					if got := resolvedFile(t, written, path); got.ID() != laid.Spec.ID() {
						t.Errorf("%+d rings, butt ring at %g m: what is written is another rod", change, butt)
					}
				}
			}
		})
	}
}

// Each of the figures that patterns are compared by has a better side.
func TestPatternFigures(t *testing.T) {
	for _, key := range patternFigures {
		if figures.Of(key).Better == 0 {
			t.Errorf("neither less nor more of %s is better", key)
		}
	}
}

func TestPatternRow(t *testing.T) {
	d := figures.Display{Units: "metric"}
	for _, row := range []struct {
		key, unit, want string
		now, then       float64
	}{
		{"weight", "kg", "+1.2!", 0.1643, 0.1655},
		{"weight", "kg", "−1.2 ", 0.1643, 0.1631},
		{"weight", "kg", "same ", 0.1643, 0.16430001},
		{"recovery", "Hz", "−0.05!", 3.19, 3.14},
		{"recovery", "Hz", "+0.05 ", 3.19, 3.24},
		{"line-touch", "m", "+30!", 0, 0.03},
		{"test-curve", "N", "+0.11 ", 6.2, 6.7}, // neither is better
	} {
		other := &evaluate.Figures{List: []evaluate.Figure{{Key: row.key, Unit: row.unit, Value: row.then}}}
		got, _ := newPatternRow(d, evaluate.Figure{Key: row.key, Unit: row.unit, Value: row.now},
			[]pattern{{Pattern: &evaluate.Pattern{Figures: other}}})
		if got.changes[0] != row.want {
			t.Errorf("%s from %g to %g is told as %q, want %q", row.key, row.now, row.then, got.changes[0], row.want)
		}
	}
}

func TestPatternCounts(t *testing.T) {
	for _, row := range []struct {
		count    string
		present  int
		from, to int
	}{
		{"", 9, 6, 11},
		{"", 5, 3, 7},
		{"", 3, 3, 5},
		{"", 2, 2, 4},
		{"", 1, 2, 3},
		{"", 29, 26, 30},
		{"7", 9, 7, 7},
		{"5..11", 9, 5, 11},
	} {
		from, to, err := patternOptions{count: row.count}.counts(row.present)
		if err != nil || from != row.from || to != row.to {
			t.Errorf("%q of a rod with %d rings is %d..%d, %v; want %d..%d", row.count, row.present, from, to, err, row.from, row.to)
		}
	}
}
