package evaluate

import (
	"math"
	"testing"

	"rodlore/evaluate/beam"
	"rodlore/models"
)

// TestLooseSectionsMakeTheRod holds that the sections, each on its own, have the
// rod's mass and moments between them, with a joint of every kind.
func TestLooseSectionsMakeTheRod(t *testing.T) {
	for _, r := range []*rod{goodRod(t, "skerry-10"), goodRod(t, "long-drift")} {
		whole, sum := r.wholeRod(), loose{}
		for i := range r.spec.Sections {
			l, end := r.section(i), r.members[i].from
			sum.mass += l.mass
			sum.moment += l.moment + end*l.mass
			sum.square += l.square + 2*end*l.moment + end*end*l.mass
		}
		m := r.weigh()
		// The same integrals in another order.
		near(t, r.spec.Name.Text+": mass", sum.mass, m.total(), 1e-12)
		near(t, r.spec.Name.Text+": moment", sum.moment, m.moment, 1e-12)
		near(t, r.spec.Name.Text+": square", sum.square, whole.square, 1e-12)
	}
}

// A uniform bar about its end swings as a plumb line of two thirds of its
// length, one about a third of it the same (Huygens: pivot and centre of
// oscillation change places).
func TestPeriodOfAUniformBar(t *testing.T) {
	const length, mass = 1.5, 0.1
	bar := loose{mass, mass * length / 2, mass * length * length / 3}
	want := 2 * math.Pi * math.Sqrt(2*length/3/beam.Gravity)
	near(t, "about its end", bar.period(0), want, 1e-12) // rounding
	near(t, "about its third", bar.period(length/3), want, 1e-12)
}

// TestDistanceOfPoints takes points a known way off a bent rod.
func TestDistanceOfPoints(t *testing.T) {
	r := goodRod(t, "skerry-10")
	mesh, err := r.free(coarseElements)
	if err != nil {
		t.Fatal(err)
	}
	sh, err := beam.NewSolver(mesh).Bend(hung(2))
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []float64{0.4, 1.1, 1.9} {
		for _, off := range []float64{-0.02, 0, 0.02} {
			p := sh.At(s)
			got := distance(sh, p.X-off*math.Sin(p.Turn), p.Y+off*math.Cos(p.Turn))
			if math.Abs(got-off) > 1e-6 { // a thousandth of a millimetre
				t.Errorf("at %v: %v, want %v", s, got, off)
			}
		}
	}
}

func goodRod(t *testing.T, name string) *rod {
	t.Helper()
	r, err := assemble(goodSpecOf(t, name), models.DefaultSettings())
	if err != nil {
		t.Fatal(err)
	}
	return r
}
