package laminate_test

import (
	"math"
	"testing"

	"rodlore/evaluate/laminate"
)

// isotropic is the wall of an isotropic tube. Of its hoop modulus E stretching
// has E and bending E/(1−ν²), which wrinkling takes into account by Poisson.
func isotropic(radius, wall, e, nu float64) laminate.Shell {
	return laminate.Shell{Radius: radius, Thickness: wall, Axial: e, Hoop: e, Shear: e / (2 * (1 + nu)), Poisson: nu}
}

// The curve of NASA SP-8007 for bending, worked out by hand from its formula,
// which is from memory.
func TestKnockdown(t *testing.T) {
	for _, c := range []struct{ ratio, want float64 }{{4, 0.914}, {10, 0.869}, {100, 0.660}, {500, 0.450}, {1000, 0.370}} {
		s := laminate.Shell{Radius: c.ratio, Thickness: 1}
		near(t, "knock-down", s.Knockdown(), c.want, 2e-3) // three digits by hand
	}
}

// The classical stress of an isotropic cylinder in compression is 0.605·E·t/r at
// a Poisson's ratio of 0.3 (Timoshenko and Gere 1961, Theory of Elastic
// Stability, section 11.1; from memory).
func TestWrinklesOfIsotropicTube(t *testing.T) {
	s := isotropic(10e-3, 0.2e-3, 70e9, 0.3)
	near(t, "strain", s.Wrinkles()/s.Knockdown(), 0.605*0.2/10, 1e-3) // three digits
}

// Brazier's moment of an isotropic tube is 0.987·E·r·t²/√(1−ν²) (Roark's Formulas
// for Stress and Strain, elastic stability of long tubes in bending; from memory).
// Over the stiffness of the round tube that is a strain of 0.31·(t/r)·√(Eθ/Ex).
func TestFlattens(t *testing.T) {
	const e, nu, r, wall = 200e9, 0.3, 12e-3, 0.3e-3
	near(t, "moment", laminate.Brazier(r, wall, e, e/(1-nu*nu)), 0.987*e*r*wall*wall/math.Sqrt(1-nu*nu), 1e-3) // three digits
	s := laminate.Shell{Radius: 10e-3, Thickness: 1e-3, Axial: 100e9, Hoop: 5e9}
	near(t, "strain", s.Flattens(), 0.0070, 0.01) // two digits
}

// TestSoftening solves Brazier's M(κ) for the curvature by halving.
func TestSoftening(t *testing.T) {
	for _, part := range []float64{1e-6, 5e-5, 2e-4, 0.1, 0.5, 0.9, 1} {
		low, high := 0.0, 1.0
		for range 60 {
			if mid := (low + high) / 2; mid*(1-mid*mid/3) < part*2/3 {
				low = mid
			} else {
				high = mid
			}
		}
		want := low/(part*2/3) - 1
		if got := laminate.Softening(part); math.Abs(got-want) > 1e-6*want+3e-10/part { // of the search
			t.Errorf("at %g of the moment the tube gives way by %.9g more, want %.9g", part, got, want)
		}
	}
}

// A wall of plies along the rod alone has the lamina's own moduli.
func TestShellOfUnidirectional(t *testing.T) {
	s := roll(t, 14e-3, []laminate.Ply{lay(t, as4, 0, 6)})
	near(t, "hoop", s.HoopStretch, as4.E2, 1e-12)
	near(t, "shear", s.Shear, as4.G12, 1e-12)
	near(t, "poisson", s.Poisson, as4.Nu12*math.Sqrt(as4.E2/as4.E1), 1e-12)
}
