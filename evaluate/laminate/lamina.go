package laminate

import (
	"fmt"
	"math"
)

// Lamina is one layer of cured material: unidirectional prepreg, a woven cloth
// taken as a homogeneous layer, or anything isotropic. Axis 1 runs along the
// fibres, axis 2 across them in the layer.
type Lamina struct {
	E1, E2, G12 float64 // Pa
	Nu12        float64 // contraction along 2 for extension along 1
	Density     float64 // kg/m³
	Thickness   float64 // m, cured, of one wrap

	// Strains along the fibres at which the lamina fails, both positive.
	// math.Inf(1) says that no limit is to be looked at.
	StrainCompression, StrainTension float64
}

// Ply is a lamina laid at an angle, with everything that does not change along
// the rod worked out. Make it with Lamina.Ply; the zero Ply is refused by Roll.
type Ply struct {
	Wraps float64 // turns at the cross-section looked at; 0 where the ply has ended

	q                    stiffness
	fibre                strains // row that gives the fibre strain from strains in tube axes
	thickness, density   float64
	compression, tension float64
}

// strains holds axial, hoop and engineering shear strain, or weights of them.
type strains [3]float64

func (a strains) dot(b strains) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// stiffness is a symmetric 3×3 matrix from strains to stresses (Pa) or, summed
// over thicknesses, to forces per length (N/m), in the axes of the tube.
type stiffness struct{ xx, xh, xs, hh, hs, ss float64 }

// axial gives the axial stress at those strains, shear the shear stress.
func (q stiffness) axial(e strains) float64 { return e.dot(strains{q.xx, q.xh, q.xs}) }
func (q stiffness) shear(e strains) float64 { return e.dot(strains{q.xs, q.hs, q.ss}) }

// add adds t times p.
func (q *stiffness) add(p stiffness, t float64) {
	q.xx += t * p.xx
	q.xh += t * p.xh
	q.xs += t * p.xs
	q.hh += t * p.hh
	q.hs += t * p.hs
	q.ss += t * p.ss
}

// Ply lays the lamina with its fibres at angle (rad) to the axis of the tube.
// The sign of the angle is that of a right-hand helix. It fails where the
// lamina is none that could exist, saying which property is at fault.
func (l Lamina) Ply(angle float64) (Ply, error) {
	if err := l.check(); err != nil {
		return Ply{}, err
	}
	if math.IsNaN(angle) || math.IsInf(angle, 0) {
		return Ply{}, fmt.Errorf("ply angle is %v; give radians from the axis", angle)
	}
	sin, cos := math.Sincos(angle)
	return Ply{
		q:           l.reduced().rotated(cos, sin),
		fibre:       strains{cos * cos, sin * sin, sin * cos},
		thickness:   l.Thickness,
		density:     l.Density,
		compression: l.StrainCompression,
		tension:     l.StrainTension,
	}, nil
}

// reduced gives the stiffness in plane stress in the lamina's own axes
// (Jones 1999, eq. 2.66; from memory).
func (l Lamina) reduced() stiffness {
	nu21 := l.Nu12 * l.E2 / l.E1
	d := 1 - l.Nu12*nu21
	return stiffness{xx: l.E1 / d, xh: l.Nu12 * l.E2 / d, hh: l.E2 / d, ss: l.G12}
}

// rotated gives the stiffness of an orthotropic q in axes from which its own
// are turned by the angle of that cosine and sine (Jones 1999, eq. 2.85; from
// memory; tested against the rotation of the fourth-order tensor).
func (q stiffness) rotated(c, s float64) stiffness {
	c2, s2, cs := c*c, s*s, c*s
	mixed := q.xh + 2*q.ss
	return stiffness{
		xx: q.xx*c2*c2 + 2*mixed*c2*s2 + q.hh*s2*s2,
		hh: q.xx*s2*s2 + 2*mixed*c2*s2 + q.hh*c2*c2,
		xh: (q.xx+q.hh-4*q.ss)*c2*s2 + q.xh*(c2*c2+s2*s2),
		ss: (q.xx+q.hh-2*q.xh)*c2*s2 + q.ss*(c2-s2)*(c2-s2),
		xs: cs * ((q.xx-mixed)*c2 - (q.hh-mixed)*s2),
		hs: cs * ((q.xx-mixed)*s2 - (q.hh-mixed)*c2),
	}
}

func (l Lamina) check() error {
	for _, p := range []struct {
		name  string
		value float64
	}{
		{"modulus along the fibres", l.E1},
		{"modulus across the fibres", l.E2},
		{"shear modulus", l.G12},
		{"density", l.Density},
		{"thickness", l.Thickness},
	} {
		if !(p.value > 0) || math.IsInf(p.value, 1) {
			return fmt.Errorf("%s is %v; it has to be above zero", p.name, p.value)
		}
	}
	if !(l.StrainCompression > 0) || !(l.StrainTension > 0) {
		return fmt.Errorf("strain limits are %v in compression and %v in tension; give both above zero, infinite where there is none",
			l.StrainCompression, l.StrainTension)
	}
	// Beyond this the lamina would give off energy when strained
	// (Jones 1999, eq. 2.48; from memory).
	if most := math.Sqrt(l.E1 / l.E2); !(math.Abs(l.Nu12) < most) {
		return fmt.Errorf("poisson's ratio is %v; with these moduli it has to be within ±%.3g", l.Nu12, most)
	}
	return nil
}
