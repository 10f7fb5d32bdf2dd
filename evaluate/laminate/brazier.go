package laminate

import "math"

// Brazier gives the bending moment (N·m) at which a long thin tube of that
// mean radius and wall (m) folds because its cross-section has flattened:
//
//	M = 2√2/9 · π · r · t² · √(Ex · Eθ)
//
// where Ex (axial, Pa) is the modulus of the wall stretched along the tube and
// Eθ (hoop, Pa) that of the wall bent round the hoop: Modulus and HoopModulus
// of a Section, or E and E/(1−ν²) of an isotropic tube. Source: Brazier 1927,
// "On the flexure of thin cylindrical shells and other thin sections", Proc.
// R. Soc. A 116, 104–114, with Eθ in place of E/(1−ν²) for a wall that is
// stiffer one way than the other; from memory.
//
// It is the limit of a perfect, long, elastic tube. Dents, uneven walls, short
// wrinkles on the compressed side and hoop plies that crack first all bring a
// real tube down before it: take it to compare builds by, never as a moment
// that may be applied.
func Brazier(radius, wall, axial, hoop float64) float64 {
	return 2 * math.Sqrt2 / 9 * math.Pi * radius * wall * wall * math.Sqrt(axial*hoop)
}
