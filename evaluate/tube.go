package evaluate

import "math"

// tube is the cross-section of one round member at one place.
type tube struct {
	EI      float64 // bending stiffness, N·m²
	EA      float64 // axial stiffness, N
	Mu      float64 // mass per length, kg/m
	Outside float64 // diameter, m
	// Allow is the compressive strain at which the outer fibre fails; 0 means
	// that the material gives none.
	Allow float64
}

// stuff is what a homogeneous member is made of, SI.
type stuff struct{ modulus, density, allow float64 }

// newTube is a homogeneous tube; a wall of half the diameter or more is a solid
// rod. I = π/64·(D⁴−d⁴), A = π/4·(D²−d²).
func newTube(outside, wall float64, of stuff) tube {
	inside := math.Max(0, outside-2*wall)
	area := math.Pi / 4 * (outside*outside - inside*inside)
	second := area / 16 * (outside*outside + inside*inside)
	return tube{
		EI: of.modulus * second, EA: of.modulus * area, Mu: of.density * area,
		Outside: outside, Allow: of.allow,
	}
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
