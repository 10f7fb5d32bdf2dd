package laminate

import "math"

// Shell is the wall of a round tube as its buckling sees it.
type Shell struct {
	Radius, Thickness float64 // m, of the wall's middle
	Axial, Hoop       float64 // moduli along the tube and round the hoop, Pa
	Shear             float64 // modulus in the wall, Pa
	Poisson           float64 // √(νxθ·νθx); 0 is on the safe side
}

// Flattens gives the strain of the middle of the wall at which a long tube folds
// because its cross-section has flattened, reckoned for the round section: the
// moment of Brazier over the stiffness π·r³·t·Ex, at the radius r,
//
//	ε = 2√2/9 · (t/r) · √(Eθ/Ex)
func (s Shell) Flattens() float64 {
	stiffness := math.Pi * s.Radius * s.Radius * s.Radius * s.Thickness * s.Axial
	return Brazier(s.Radius, s.Thickness, s.Axial, s.Hoop) * s.Radius / stiffness
}

// Wrinkles gives the strain at which the compressed side of a bent tube buckles
// in short waves:
//
//	ε = γ · (t/r) · √(Eθ/Ex) / √(3(1−ν²)) · min(1, √(2G(1+ν)/√(ExEθ)))
//
// with ν for Poisson. The classical strain of an orthotropic cylinder, of which
// the last factor takes the waves that run askew where the wall is soft in
// shear, is from Dow and Rosen 1965, "Structural efficiency of orthotropic
// cylindrical shells subjected to axial compression", AIAA Journal 4, 481–485;
// γ is Knockdown. Both are cited from memory.
func (s Shell) Wrinkles() float64 {
	classical := s.Thickness / s.Radius * math.Sqrt(s.Hoop/s.Axial) / math.Sqrt(3*(1-s.Poisson*s.Poisson))
	askew := math.Sqrt(2 * s.Shear * (1 + s.Poisson) / math.Sqrt(s.Axial*s.Hoop))
	return s.Knockdown() * classical * min(1, askew)
}

// Knockdown is the share of the classical strain that bent cylinders bore in
// tests, at the least:
//
//	γ = 1 − 0.731·(1 − e^(−φ)),  φ = √(r/t)/16
//
// NASA SP-8007, "Buckling of thin-walled circular cylinders", revised 1968,
// section 4.1.2, from memory: a lower bound to tests of metal cylinders of r/t
// below 1,500.
func (s Shell) Knockdown() float64 {
	return 1 - 0.731*(1-math.Exp(-math.Sqrt(s.Radius/s.Thickness)/16))
}

// Softening is by what share a tube curves more than a round one would under a
// moment that is that part of Brazier's. With the curvature κ of the round tube
// and κc that at which the moment is largest, M = EI·κ'·(1 − (κ'/κc)²/3), which
// is solved for κ'/κ − 1; 1/2 at Brazier's moment and beyond it.
func Softening(part float64) float64 {
	// With x = κ'/κc and M/Mc = part, x − x³/3 = part·2/3: the root that grows
	// from 0 is x = 2·sin(asin(part)/3).
	part = min(part, 1)
	if part < 1e-4 {
		return 4. / 27 * part * part
	}
	return 2*math.Sin(math.Asin(part)/3)/(part*2/3) - 1
}
