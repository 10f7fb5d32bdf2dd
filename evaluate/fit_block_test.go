package evaluate

import (
	"math"
	"slices"
	"testing"

	"rodlore/models"
)

// TestBlockIsTheFit works the figures out with the block of a fit and holds them
// against the readings as fitted, to what rounding the block leaves.
func TestBlockIsTheFit(t *testing.T) {
	s, set := goodSpec(t), models.DefaultSettings()
	f := newFitting(t, s, set, benchSheet, Frees...)
	b := f.came([]float64{0.8, -1.1, 0.5, -0.7, 0.2, 0.6, 0})
	for i, v := range must(f.read(b)) {
		f.readings[i].Value = v
	}
	fit, err := FitRod(t.Context(), s, set, f.readings, FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	m := *s.Model
	if m.Fitted, err = fit.Block("rod 1", models.Date{Text: "2026-11-07"}); err != nil {
		t.Fatal(err)
	}
	if m.Fitted.Empty() {
		t.Fatal("nothing was told of the rod")
	}
	fitted := &models.Spec{Model: &m, Parts: s.Parts, Materials: s.Materials}
	again := bench{spec: fitted, set: set, readings: f.readings}
	for i, v := range must(again.read(newBuild(fitted))) {
		r := fit.Readings[i]
		if r.What == models.TestCurveMeasure {
			continue // by the maker's turn, which is not the rod's
		}
		// The block is rounded to 0.1 % and a micrometre, which moves a bend by
		// parts of a millimetre, and leaves out what
		// little was told of the feet.
		if math.Abs(v-r.After) > 2e-3*math.Abs(v)+5e-4 {
			t.Errorf("%s: %v by the block, %v as fitted", r.Name(), v, r.After)
		}
	}
	// What the block leaves open of the figure is what the fit knows it to: rings and
	// cork, which are not in the block, hardly bend.
	figs, err := New(fitted, set).FiguresWithTolerances(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	third, _ := figs.Get("third-load")
	if unknown, scatter := figs.Apart(third); math.Abs(unknown-fit.Know) > 0.15*fit.Know || scatter < 2*unknown {
		t.Errorf("third load is known to %v, and to %v by the fit; it scatters by %v", unknown, fit.Know, scatter)
	}
	if !slices.ContainsFunc(figs.Notes, func(n Note) bool { return n.Key == "doubts.fitted" }) {
		t.Errorf("no note tells of the fit: %v", figs.Notes)
	}
}

func TestSameBlank(t *testing.T) {
	for _, tt := range []struct {
		name string
		edit func(*models.Spec)
		same bool
	}{
		{"the same", func(*models.Spec) {}, true},
		{"another ring pattern", func(s *models.Spec) { s.Rings = s.Rings[:len(s.Rings)-1] }, true},
		{"a thicker wall", func(s *models.Spec) { s.Sections[0].Tube[0].Wall.Value *= 1.1 }, false},
		{"another material of that name", func(s *models.Spec) { s.Materials["carbon-30t"].Modulus.Value *= 1.1 }, false},
		{"a section less", func(s *models.Spec) { s.Sections = s.Sections[:1] }, false},
		{"a section of another name", func(s *models.Spec) { s.Sections[1].Name.Text = "top" }, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			a, b := goodSpec(t), goodSpec(t)
			tt.edit(b)
			if SameBlank(a, b) != tt.same {
				t.Errorf("one blank: %t, want %t", !tt.same, tt.same)
			}
		})
	}
}

// TestDeviations adds 3 and 4 as deviations do.
func TestDeviations(t *testing.T) {
	if got := (Figure{Value: 10, Tolerance: 3}).Deviations(20, 4); got != 2 {
		t.Errorf("10 off by deviations of 3 and 4 is %v of them, want 2", got)
	}
}

// TestReadingsOfFigures holds which readings are measurements of which figures.
func TestReadingsOfFigures(t *testing.T) {
	s, set := goodSpec(t), models.DefaultSettings()
	f, err := New(s, set).Figures()
	if err != nil {
		t.Fatal(err)
	}
	b := bench{spec: s, set: set, readings: readingsOf(t, s, set, benchSheet)}
	seen := map[string]bool{}
	for i, v := range must(b.read(newBuild(s))) {
		r := b.readings[i]
		if r.Figure == "" {
			continue
		}
		seen[r.Figure] = true
		r.Value = v
		value, _ := r.AsFigure()
		fig, ok := f.Get(r.Figure)
		// On a mesh half as fine.
		if !ok || math.Abs(value-fig.Value) > fig.Error+1e-9*fig.Value {
			t.Errorf("%s: %v at the bench, %v ± %v as a figure", r.Figure, value, fig.Value, fig.Error)
		}
	}
	for _, key := range []string{"weight", "balance", "tip-drop", "third-load", "test-curve", "recovery", "settle"} {
		if !seen[key] {
			t.Errorf("no reading is of %s", key)
		}
	}
}
