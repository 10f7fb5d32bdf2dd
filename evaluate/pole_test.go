package evaluate_test

import (
	"math"
	"testing"

	"rodlore/evaluate"
	"rodlore/models"
)

// The uniform pole: a tube of 20 mm with a wall of 1 mm, 4 m long, held to
// 500 mm, of 100 GPa and 1500 kg/m³.
const (
	poleFree = 3.5
	poleEI   = 100e9 * math.Pi / 64 * (160e-9 - 104.976e-9) // 20⁴ and 18⁴ mm⁴
	poleMu   = 1500 * math.Pi / 4 * (400e-6 - 324e-6)       // kg/m
)

func uniformPole(t testing.TB) *models.Spec {
	return resolve(t, `name: Uniform pole
reel: none
length: 4000 mm
sections:
  - name: all
    length: 4000 mm
    material: carbon
    tube: [{at: 0 mm, outside: 20 mm, wall: 1 mm}, {at: 4000 mm, outside: 20 mm, wall: 1 mm}]
handle:
  grips: [{from: 0 mm, to: 400 mm, diameter: 26 mm, material: cork}]
held: {to: 500 mm}
rings:
  - {at: 0 mm, part: eye}
`, `
rings:
  eye: {size: 2 mm, height: 1 mm, feet: 0, mass: 0 g}
`, "carbon: {modulus: 100 GPa, density: 1500 kg/m3, strain: {compression: 0.8 %}}\n")
}

// TestPoleAgainstHandbook holds a uniform pole against the handbook's cantilever:
// frequencies (βL)²/2π·√(EI/μL⁴) with βL of 1.87510 and 4.69409 and the modal
// mass μL/4 (Blevins 1979, Formulas for Natural Frequency and Mode Shape, table
// 8-1), deflection PL³/3EI + μgL⁴/8EI and stiffness 3EI/L³ (Gere and Timoshenko
// 1997, Mechanics of Materials, appendix G); all from memory.
func TestPoleAgainstHandbook(t *testing.T) {
	set := models.DefaultSettings()
	const load = 0.2 // N, so that the tip is lowered by little
	set.BenchLoad.Value = load
	figs, err := evaluate.New(uniformPole(t), set).Figures()
	if err != nil {
		t.Fatal(err)
	}
	const l = poleFree
	root := math.Sqrt(poleEI/(poleMu*l*l*l*l)) / (2 * math.Pi)
	for _, row := range []struct {
		key       string
		want, tol float64
	}{
		{"recovery", 1.87510 * 1.87510 * root, 1e-5}, // six digits of the constants
		{"second-mode", 4.69409 * 4.69409 * root, 1e-5},
		{"cast-mass", poleMu * l / 4, 1e-5},
		{"tip-stiffness", 3 * poleEI / (l * l * l), 1e-6},
		{"tip-drop", load*l*l*l/(3*poleEI) + poleMu*9.80665*l*l*l*l/(8*poleEI), 2e-3}, // a large deflection by that
	} {
		if got := value(t, figs, row.key); math.Abs(got-row.want) > row.tol*row.want {
			t.Errorf("%s is %.7g, the handbook has %.7g", row.key, got, row.want)
		}
	}
}

// TestPoleIsPulledAtItsTip holds that the test curve of a rod without rings is
// that of a load on its tip ring whatever the range says, and that it says so:
// through rings, of which there are none, the line would be a bowstring.
func TestPoleIsPulledAtItsTip(t *testing.T) {
	for _, s := range []*models.Spec{uniformPole(t), plainRod(t, 100)} {
		through, tip := models.DefaultSettings(), models.DefaultSettings()
		tip.TestCurve.Line = "from tip ring"
		a, err := evaluate.New(s, through).Figures()
		if err != nil {
			t.Fatal(err)
		}
		b, err := evaluate.New(s, tip).Figures()
		if err != nil {
			t.Fatal(err)
		}
		for _, key := range []string{"test-curve", "load-limit", "flat-turn", "strain-worst"} {
			if one, other := value(t, a, key), value(t, b, key); one != other {
				t.Errorf("%s: %s is %g through rings that there are not and %g from the tip ring", s.Name, key, one, other)
			}
		}
		if f, _ := a.Get("test-curve"); f.Aside.Key != "asides.curve.without rings" {
			t.Errorf("with the test curve goes %v", f.Aside)
		}
		for _, key := range []string{"line-gap", "line-touch", "ring-load-worst", "ring-turn-spread", "line-angle-sum", "butt-ring-to-reel"} {
			if f, ok := a.Get(key); ok {
				t.Errorf("%s: %s is %g without a ring", s.Name, key, f.Value)
			}
		}
		for _, n := range a.Notes {
			if n.Figure == "line-gap" {
				t.Errorf("%s: there is a note on %s", s.Name, n.Figure)
			}
		}
		l, err := evaluate.New(s, through).Limits()
		if err != nil {
			t.Fatal(err)
		}
		if !l.AtTip || len(l.Lifts)+len(l.LiftNotes) != 8 || len(l.Lifts) < 6 {
			t.Errorf("%s: limits at %d angles, with the notes %q", s.Name, len(l.Lifts), l.LiftNotes)
		}
		if _, err := evaluate.New(s, through).FiguresWithTolerances(t.Context()); err != nil {
			t.Error(err)
		}
		if _, err := evaluate.New(s, through).Curvature(); err != nil {
			t.Error(err)
		}
	}
	if _, err := evaluate.New(uniformPole(t), models.DefaultSettings()).Bend(evaluate.BendCase{Force: 1, Direction: math.Pi / 2, ThroughRings: true}); err == nil {
		t.Error("a line runs through the rings of a rod that has none")
	}
}
