package evaluate

import (
	"math"

	"rodlore/evaluate/laminate"
)

const (
	// usualHoop is the share of its modulus along the rod that a material has
	// round it where materials.yaml gives no hoop modulus: that of plies along
	// the rod alone, whose thin scrim is not counted (common practice, no
	// source). Twice and three times as much is usual with a hoop ply.
	usualHoop = 0.05
	// shearOfHoop is the shear modulus of a tube's wall over its hoop modulus:
	// that of a ply along the rod is a half (generic tables), of an isotropic
	// material a little less.
	shearOfHoop = 0.4
)

// tube is the cross-section of one round member at one place.
type tube struct {
	EI      float64 // bending stiffness, N·m²
	EA      float64 // axial stiffness, N
	Mu      float64 // mass per length, kg/m
	Outside float64 // diameter, m
	// Allow is the compressive strain at which the outer fibre fails; 0 means
	// that the material gives none.
	Allow float64
	Shell laminate.Shell // its wall; the zero Shell where that is not known or solid
}

// stuff is what a homogeneous member is made of, SI.
type stuff struct{ modulus, density, allow, hoop float64 }

// newTube is a homogeneous tube; a wall of half the diameter or more is a solid
// rod. I = π/64·(D⁴−d⁴), A = π/4·(D²−d²).
func newTube(outside, wall float64, of stuff) tube {
	inside := math.Max(0, outside-2*wall)
	area := math.Pi / 4 * (outside*outside - inside*inside)
	second := area / 16 * (outside*outside + inside*inside)
	t := tube{
		EI: of.modulus * second, EA: of.modulus * area, Mu: of.density * area,
		Outside: outside, Allow: of.allow,
	}
	if inside > 0 && of.hoop > 0 {
		wall := (outside - inside) / 2
		t.Shell = laminate.Shell{Radius: (outside - wall) / 2, Thickness: wall, Axial: of.modulus, Hoop: of.hoop, Shear: shearOfHoop * of.hoop}
	}
	return t
}

// newHexagon is a homogeneous hexagon over its flats, with a hexagonal hollow. Its
// second moment is that about any axis through the middle, I = 5√3/144·f⁴, and
// A = √3/2·f² (Machinery's Handbook, properties of sections: 0.06f⁴ and 0.866f²,
// from memory). What bends it farthest from the middle lies on a flat, as strips
// are turned to.
func newHexagon(flats, hollow float64, of stuff) tube {
	area := math.Sqrt(3) / 2 * (flats*flats - hollow*hollow)
	second := 5 * math.Sqrt(3) / 144 * (math.Pow(flats, 4) - math.Pow(hollow, 4))
	return tube{EI: of.modulus * second, EA: of.modulus * area, Mu: of.density * area, Outside: flats, Allow: of.allow}
}

// line is a quantity that varies linearly along z.
type line struct{ z0, v0, slope float64 }

func lineThrough(z0, v0, z1, v1 float64) line {
	if z1 == z0 {
		return line{z0: z0, v0: v0}
	}
	return line{z0: z0, v0: v0, slope: (v1 - v0) / (z1 - z0)}
}

func (l line) at(z float64) float64 { return l.v0 + l.slope*(z-l.z0) }
