package laminate

import (
	"errors"
	"fmt"
	"math"
)

// wall is the laminate as if it lay flat.
type wall struct {
	thickness float64
	a         stiffness // A of classical lamination theory, N/m

	// Moments of the hoop stiffness over the thickness, measured from the
	// inner face: N and N·m.
	hoop1, hoop2 float64
}

func stack(plies []Ply) (wall, error) {
	var w wall
	for i := range plies {
		p := &plies[i]
		if p.density == 0 {
			return wall{}, fmt.Errorf("ply %d has no lamina; make it with Lamina.Ply", i+1)
		}
		if !(p.Wraps >= 0) || math.IsInf(p.Wraps, 1) {
			return wall{}, fmt.Errorf("wraps of ply %d are %v; give the turns round the mandrel, 0 or more", i+1, p.Wraps)
		}
		t := p.Wraps * p.thickness
		middle := w.thickness + t/2
		w.a.add(p.q, t)
		w.hoop1 += p.q.hh * t * middle
		w.hoop2 += p.q.hh * t * (middle*middle + t*t/12)
		w.thickness += t
	}
	if w.thickness == 0 {
		return wall{}, errors.New("no ply has any wraps here; a tube needs at least part of one")
	}
	return w, nil
}

// stretched gives the strains at unit axial strain when no hoop force and no
// shear force act in the wall: the first column of the inverse of A, scaled.
// Its second entry is minus the laminate's Poisson ratio (Jones 1999, section
// 4.2; from memory).
func (w wall) stretched() strains {
	a := w.a
	d := a.hh*a.ss - a.hs*a.hs
	return strains{1, (a.xs*a.hs - a.xh*a.ss) / d, (a.xh*a.hs - a.hh*a.xs) / d}
}

// twisted gives the strains at unit shear when no axial force and no hoop
// force act: the third column of the inverse of A, scaled.
func (w wall) twisted() strains {
	a := w.a
	d := a.xx*a.hh - a.xh*a.xh
	return strains{(a.xh*a.hs - a.hh*a.xs) / d, (a.xh*a.xs - a.xx*a.hs) / d, 1}
}

// hoopStretch is the modulus round the hoop where no axial force and no shear
// force act.
func (w wall) hoopStretch() float64 {
	a := w.a
	axial := a.xx*a.ss - a.xs*a.xs
	// Determinant of A over the minor of its hoop entry.
	det := a.xx*(a.hh*a.ss-a.hs*a.hs) - a.xh*(a.xh*a.ss-a.hs*a.xs) + a.xs*(a.xh*a.hs-a.hh*a.xs)
	return det / axial / w.thickness
}

// hoopModulus is 12·D/t³, where D is the wall's bending stiffness round the
// hoop about the plane that bending leaves unstretched, with the axial
// curvature held. For a homogeneous wall it is E/(1−ν²).
func (w wall) hoopModulus() float64 {
	d := w.hoop2 - w.hoop1*w.hoop1/w.a.hh
	return 12 * d / (w.thickness * w.thickness * w.thickness)
}
