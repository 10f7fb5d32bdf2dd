package evaluate

import (
	"context"
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"

	"rodlore/models"
)

// stick is a rod of one section known by its stiffness, N·m², at the tip and at the
// butt, two metres of it free.
func stick(t *testing.T, tip, butt float64) *models.Spec {
	t.Helper()
	src := fmt.Sprintf(`name: Stick
reel: none
length: 2200 mm
sections:
  - name: all
    length: 2200 mm
    stiffness:
      - {at: 0 mm, ei: %g N·m2, mass: 0.1 g/m, outside: 5 mm}
      - {at: 2000 mm, ei: %g N·m2, mass: 0.1 g/m, outside: 9 mm}
      - {at: 2200 mm, ei: %[2]g N·m2, mass: 0.1 g/m, outside: 9 mm}
rings: [{at: 0 mm, part: T}]
handle: {grips: [{from: 0 mm, to: 200 mm, diameter: 24 mm, material: cork}]}
`, tip, butt)
	parts, err := models.ParseParts("parts.yaml", []byte("rings:\n  T: {size: 6 mm, height: 5 mm, feet: 0, mass: 0.5 g}\n"))
	if err != nil {
		t.Fatal(err)
	}
	materials, err := models.ParseMaterials("materials.yaml", nil)
	if err != nil {
		t.Fatal(err)
	}
	spec, err := models.ParseSpec("stick.yaml", []byte(src), parts, materials)
	if err != nil {
		t.Fatal(err)
	}
	return spec
}

func actionOf(t *testing.T, s *models.Spec) *Action {
	t.Helper()
	a, err := New(s, models.DefaultSettings()).Action(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// A uniform cantilever under a dead load at its tip, square to it, is the elastica of
// elliptic integrals (Bisshopp and Drucker 1945, Quarterly of Applied Mathematics
// 3:272): with sin φ = 1/(k√2), k² = (1 + sin θ)/2 for the turn θ of the tip,
// L√(F/EI) = K(k) − F(φ, k) and drop/L = 1 − 2 (E(k) − E(φ, k)) / (K(k) − F(φ, k)).
func TestActionOfUniformRod(t *testing.T) {
	turned := func(turn float64) (load, drop float64) {
		m := (1 + math.Sin(turn)) / 2
		phi := math.Asin(1 / math.Sqrt(2*m))
		k := mathext.CompleteK(m) - mathext.EllipticF(phi, m)
		e := mathext.CompleteE(m) - mathext.EllipticE(phi, m)
		return k * k, 1 - 2*e/k
	}
	low, turn := 0.0, 1.0
	for high := turn; high-low > 1e-12; {
		turn = (low + high) / 2
		if _, drop := turned(turn); drop < 1./3 {
			low = turn
		} else {
			high = turn
		}
	}
	load, _ := turned(turn) // of one metre and one newton square metre
	a := actionOf(t, stick(t, 4, 4))
	if got := a.Turns[len(a.Turns)-1].Value; math.Abs(got-turn) > 1e-5 {
		t.Errorf("the tip turns by %.6f rad; the elastica by %.6f", got, turn)
	}
	if got := a.Load.Value; math.Abs(got/(load*4/(2*2))-1) > 1e-4 {
		t.Errorf("the load is %.5f N; of the elastica %.5f", got, load)
	}
}

// The equation of the elastica holds EI and load by their ratio alone, so a rod all of
// whose stiffness is multiplied bends to the same shape under as many times the load.
// Another taper does not.
func TestActions(t *testing.T) {
	plain := actionOf(t, stick(t, 0.2, 10))
	twice := CompareActions(plain, actionOf(t, stick(t, 0.4, 20)))
	if twice.Apart > 1e-7 || math.Abs(twice.Power-2) > 1e-6 {
		t.Errorf("at twice the power it is %g rad apart and takes %g times the load", twice.Apart, twice.Power)
	}
	// Two blanks have their own errors: the modulus of either is known to 3 %, all
	// along, which is no change of shape.
	if twice.High > 1e-4 {
		t.Errorf("pairs of rods are up to %g rad apart", twice.High)
	}
	if want := 2 * math.Sqrt(2) * 0.03; math.Abs(twice.Tolerance-want) > 0.05*want {
		t.Errorf("the power scatters by %g, want %g", twice.Tolerance, want)
	}
	other := CompareActions(plain, actionOf(t, stick(t, 4, 8)))
	if other.Low < 5*math.Pi/180 {
		t.Errorf("another taper is only %.2f° apart", other.Low*180/math.Pi)
	}
	same := CompareActions(plain, plain)
	if same.Apart != 0 || same.High != 0 || same.Power != 1 || same.Tolerance > 1e-12 {
		t.Errorf("beside itself it is %+v", same)
	}
}
