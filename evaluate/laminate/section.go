package laminate

import (
	"fmt"
	"math"
)

// Section is one cross-section of a rolled tube.
type Section struct {
	Inside, Outside float64 // diameters, m
	Wall            float64 // m

	EI float64 // bending stiffness, N·m²
	EA float64 // stretching stiffness, free to twist, N
	GJ float64 // torsional stiffness, free to stretch, N·m²
	Mu float64 // mass per length, kg/m

	Modulus     float64 // EI over the second moment of area of the wall, Pa
	HoopModulus float64 // of the wall bent round the hoop, see Brazier, Pa
	HoopStretch float64 // of the wall stretched round the hoop, free to contract, Pa
	Shear       float64 // modulus of the wall, free to stretch: GJ over the polar moment of area, Pa
	Poisson     float64 // √(νxθ·νθx) of the wall; 0 where one of them is not above 0

	// AllowCompression is the outer-fibre axial strain in bending at which the first
	// ply on the compressed side reaches its limit along the fibres; positive,
	// infinite where no ply has a limit.
	AllowCompression float64
}

// Roll rolls the plies, innermost first, on a mandrel of that diameter (m).
// A ply of 0 wraps takes no part. A part of a wrap counts as the same material
// spread evenly round the tube, so its mass is exact and its stiffness is the
// mean over the planes of bending: the stiffer and softer plane that the edge
// of a wrap makes (the spine) are not told apart.
//
// Roll fails for a mandrel without diameter, for wraps that are negative or
// not finite, for a ply that Lamina.Ply did not make, and where no ply has
// any wraps. It does not keep or change plies and does not allocate.
func Roll(mandrel float64, plies []Ply) (Section, error) {
	if !(mandrel > 0) || math.IsInf(mandrel, 1) {
		return Section{}, fmt.Errorf("mandrel diameter is %v m; it has to be above zero", mandrel)
	}
	wall, err := stack(plies)
	if err != nil {
		return Section{}, err
	}
	outer := mandrel/2 + wall.thickness
	s := Section{
		Inside:      mandrel,
		Outside:     2 * outer,
		Wall:        wall.thickness,
		HoopModulus: wall.hoopModulus(),
		HoopStretch: wall.hoopStretch(),

		AllowCompression: math.Inf(1),
	}
	stretched := wall.stretched()
	s.sum(plies, stretched, wall.twisted())
	s.Modulus = s.EI / secondMoment(mandrel/2, outer)
	s.Shear = s.GJ / (2 * secondMoment(mandrel/2, outer))
	if contraction := -stretched[1]; contraction > 0 {
		s.Poisson = contraction * math.Sqrt(s.HoopStretch/s.Modulus)
	}
	return s, nil
}

// sum adds what every ply at its true radius contributes, with the strains of
// the tube per unit of axial strain and per unit of shear.
func (s *Section) sum(plies []Ply, stretched, twisted strains) {
	outer := s.Outside / 2
	r := s.Inside / 2
	for i := range plies {
		p := &plies[i]
		if p.Wraps == 0 {
			continue
		}
		inner := r
		r += p.Wraps * p.thickness
		area := math.Pi * (r - inner) * (r + inner)
		moment := secondMoment(inner, r)
		axial := p.q.axial(stretched)
		s.EI += axial * moment
		s.EA += axial * area
		s.GJ += p.q.shear(twisted) * 2 * moment
		s.Mu += p.density * area
		s.limit(p, p.fibre.dot(stretched)*r/outer)
	}
}

// limit lowers the allowed strain to that at which the ply fails by the maximum
// strain criterion along its fibres. fibre is the fibre strain per unit of
// outer-fibre strain; where it is negative, as in a hoop ply, the fibres are
// stretched on the compressed side of the tube.
func (s *Section) limit(p *Ply, fibre float64) {
	most := p.compression
	if fibre < 0 {
		most = p.tension
	}
	s.AllowCompression = min(s.AllowCompression, most/math.Abs(fibre))
}

// secondMoment is the second moment of area of a ring of those radii about a
// diameter, π/4·(b⁴ − a⁴), factored so that a thin ring loses no digits.
func secondMoment(a, b float64) float64 {
	return math.Pi / 4 * (b - a) * (b + a) * (a*a + b*b)
}
