package evaluate

import (
	"slices"

	"rodlore/models"
)

// build is how one rod came out against its spec.
type build struct {
	sections  []sectionBuild
	rings     []ringBuild // in the order of the spec, tip first
	joints    []float64   // m beyond the spec that the whippings at each are long
	grips     []float64   // shares, of the density or of a bought grip's mass
	seat, cap float64     // shares of their masses

	known []float64 // the parts of a bought blank, and then of a fit, that are not known, in deviations
	raw   bool      // a bought blank that is being looked for: nothing of it was found

	turn    float64 // that counts as square beyond what the range says, rad
	bonding float64 // of every foot beyond what part or range say, a share
	damping float64 // logarithm of its ratio to what the range says
}

// sectionBuild is how one section came out.
type sectionBuild struct {
	outside, wall    float64   // m beyond the spec, all along
	hoop             float64   // logarithm of the ratio of a tube's modulus round the rod to what its material says
	modulus, density []float64 // shares beyond, by the materials of sectionMaterials
	hidden           hidden    // of a bought one that is being looked for
}

// ringBuild is how one ring was put on.
type ringBuild struct {
	at, whipping float64 // m beyond the spec
	mass         float64 // share beyond
}

// newBuild is a rod exactly as its spec says.
func newBuild(s *models.Spec) *build {
	b := &build{
		sections: make([]sectionBuild, len(s.Sections)),
		rings:    make([]ringBuild, len(s.Rings)),
		joints:   make([]float64, len(s.Joints)),
		grips:    make([]float64, len(s.Handle.Grips)),
		known:    make([]float64, hiddenPerSection*len(s.Sections)),
	}
	if s.Fitted != nil {
		b.known = append(b.known, make([]float64, len(s.Fitted.KnownTo))...)
	}
	for i, section := range s.Sections {
		n := len(sectionMaterials(section))
		b.sections[i].modulus, b.sections[i].density = make([]float64, n), make([]float64, n)
	}
	return b
}

// equal reports whether two sections came out the same.
func (b sectionBuild) equal(other sectionBuild) bool {
	return b.outside == other.outside && b.wall == other.wall && b.hoop == other.hoop && b.hidden == other.hidden &&
		slices.Equal(b.modulus, other.modulus) && slices.Equal(b.density, other.density)
}

// beyond is how a section came out beyond what it was fitted to.
func (b sectionBuild) beyond(f *models.Fitted, section string) sectionBuild {
	b.wall += f.WallOf(section)
	more := f.ModulusOf(section)
	b.modulus = slices.Clone(b.modulus)
	for i, m := range b.modulus {
		b.modulus[i] = (1+m)*(1+more) - 1
	}
	return b
}
