package evaluate

import (
	"fmt"
	"math"
	"slices"

	"rodlore/evaluate/laminate"
	"rodlore/models"
	"rodlore/models/units"
)

// rolledPly is a ply on its mandrel: where it lies and how many times round.
type rolledPly struct {
	span
	ply       laminate.Ply
	thickness float64 // m
	wraps     line
}

// rolledProfile is a section of plies rolled on a mandrel. Mandrel and wraps
// vary linearly, and the laminate is worked out anew at every place. An error of
// the outside is one of the mandrel; one of the wall makes all plies thicker in
// proportion.
func rolledProfile(s *models.Spec, section models.Section, st models.Stations, at span, came sectionBuild) ([]float64, profile, error) {
	rolled, materials := section.Rolled, sectionMaterials(section)
	plies := make([]rolledPly, len(rolled.Plies))
	breaks := []float64{}
	for i, p := range rolled.Plies {
		m := slices.Index(materials, p.Material.Text)
		lamina := laminaOf(s.Materials[p.Material.Text])
		lamina.E1 *= 1 + came.modulus[m]
		lamina.E2 *= 1 + came.modulus[m]
		lamina.G12 *= 1 + came.modulus[m]
		lamina.Density *= 1 + came.density[m]
		ply, err := lamina.Ply(float64(p.Angle.Value))
		if err != nil {
			return nil, nil, fmt.Errorf("%v: %s: %w", p.Pos, p.Material, err)
		}
		lies := span{at.to - float64(p.To.Or(units.Length(at.length()))), at.to - float64(p.From.Value)}
		plies[i] = rolledPly{lies, ply, lamina.Thickness, lineThrough(lies.from, p.ButtWraps, lies.to, p.TipWraps)}
		breaks = append(breaks, lies.from, lies.to)
	}
	on := func(mid float64) func(float64) tube {
		var here []rolledPly
		for _, p := range plies {
			if p.has(mid) {
				here = append(here, p)
			}
		}
		mandrel := lineAround(st.At, st.Mandrel, mid)
		return func(z float64) tube {
			stack, wall := make([]laminate.Ply, len(here)), 0.0
			for i, p := range here {
				stack[i] = p.ply
				stack[i].Wraps = max(0, p.wraps.at(z))
				wall += stack[i].Wraps * p.thickness
			}
			if came.wall != 0 {
				thicker(stack, max(1+came.wall/wall, thinnestWall))
			}
			return tubeOf(laminate.Roll(mandrel.at(z)+came.outside, stack))
		}
	}
	return append(breaks, st.At...), on, nil
}

// thicker makes plies thicker by a factor: as many more times round come to the
// same.
func thicker(stack []laminate.Ply, factor float64) {
	for i := range stack {
		stack[i].Wraps *= factor
	}
}

// tubeOf is the rolled tube as the rest of the rod sees it. The mandrel, the plies and
// the gaps between them were checked before, so an error cannot be met by any spec; it
// would show as a rod without stiffness, which the kernel refuses.
func tubeOf(s laminate.Section, err error) tube {
	if err != nil {
		return tube{EI: math.NaN()}
	}
	t := tube{EI: s.EI, EA: s.EA, Mu: s.Mu, Outside: s.Outside}
	t.Shell = laminate.Shell{
		Radius: (s.Outside - s.Wall) / 2, Thickness: s.Wall,
		Axial: s.Modulus, Hoop: min(s.HoopModulus, s.HoopStretch), Shear: s.Shear, Poisson: s.Poisson,
	}
	if !math.IsInf(s.AllowCompression, 1) {
		t.Allow = s.AllowCompression
	}
	return t
}

func laminaOf(m *models.Material) laminate.Lamina {
	limit := func(g models.Given[units.Share]) float64 {
		if !g.Set() {
			return math.Inf(1)
		}
		return float64(g.Value)
	}
	return laminate.Lamina{
		E1: float64(m.E1.Value), E2: float64(m.E2.Value), G12: float64(m.G12.Value), Nu12: float64(m.Nu12.Value),
		Density: float64(m.Density.Value), Thickness: float64(m.Thickness.Value),
		StrainCompression: limit(m.StrainCompression), StrainTension: limit(m.StrainTension),
	}
}
