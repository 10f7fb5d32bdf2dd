package evaluate

import (
	"math"
	"slices"

	"rodlore/models"
)

// Free is a kind of number that a fit may look for.
type Free string

const (
	FreeModulus Free = "modulus" // of each section, all its materials alike
	FreeWall    Free = "wall"    // of each section, all along
	FreeBonding Free = "bonding" // of the rings' feet
	FreeDamping Free = "damping"

	// What does not show of a bought blank besides, not for the asking.
	FreeWallTaper Free = "taper of the wall"
	FreeDensity   Free = "density"
	FreeOutside   Free = "outside"
	FreeMass      Free = "mass"
	FreeTurn      Free = "turn" // that the maker's eye takes for square
)

// Frees are all of them, in the order in which they are shown.
var Frees = []Free{FreeModulus, FreeWall, FreeBonding, FreeDamping, FreeTurn}

// Parameter is a number that was fitted. Value is how much more it is than spec
// and range say, in Unit: a share of the modulus and of the damping, what is
// added to wall, bonding and turn. Before the fit it is 0, within Before.
type Parameter struct {
	Free          Free
	Section       string // "" where it is of the rod as a whole
	Unit          string // "1", "m" or "rad"
	Value         float64
	Before, After float64 // standard deviations

	kind InputKind // of the inputs that it stands for
	set  func(b *build, e float64)

	section, number int // of what does not show of a bought one
}

// Name is what was fitted: "modulus of the tip".
func (u *Parameter) Name() Note { return NewNote("unknowns."+string(u.Free), "section", u.Section) }

// Told reports whether the measurements say something of it.
func (u *Parameter) Told() bool { return u.After < 0.9*u.Before }

// parametersOf are those of the spec that are free, with their tolerances.
func parametersOf(s *models.Spec, set *models.Settings, free []Free) []Parameter {
	dev := deviationsOf(s, set)
	var list []Parameter
	add := func(f Free, kind InputKind, section, unit string, deviation float64, put func(*build, float64)) {
		if slices.Contains(free, f) && deviation > 0 {
			list = append(list, Parameter{Free: f, Section: section, Unit: unit, Before: deviation, kind: kind, set: put})
		}
	}
	for i, section := range s.Sections {
		add(FreeModulus, ModulusInput, section.Name.Text, "1", dev.modulus, func(b *build, e float64) {
			for j := range b.sections[i].modulus {
				b.sections[i].modulus[j] = e
			}
		})
	}
	for i, section := range s.Sections {
		if hasWall(section) {
			add(FreeWall, WallInput, section.Name.Text, "m", dev.wall, func(b *build, e float64) { b.sections[i].wall = e })
		}
	}
	add(FreeBonding, BondingInput, "", "1", bondingDeviation, func(b *build, e float64) { b.bonding = e })
	add(FreeDamping, DampingInput, "", "1", dampingDeviation, func(b *build, e float64) { b.damping = e })
	add(FreeTurn, TurnInput, "", "rad", turnDeviation, func(b *build, e float64) { b.turn = e })
	return list
}

// others are the inputs of the spec that no parameter stands for. They scatter as
// their tolerances say.
func others(s *models.Spec, set *models.Settings, free []Parameter) []perturbation {
	return slices.DeleteFunc(inputsOf(s, set), func(in perturbation) bool {
		return slices.ContainsFunc(free, func(u Parameter) bool {
			return u.kind == in.ID.Kind && u.Section == in.ID.Of
		})
	})
}

// found is the parameter with what was found, x and its deviation being in
// deviations before. A build has the logarithm of the damping's ratio.
func (u Parameter) found(x, deviation float64) Parameter {
	u.Value, u.After = x*u.Before, deviation*u.Before
	if u.Free == FreeDamping {
		ratio := math.Exp(u.Value)
		u.Value, u.After = ratio-1, ratio*u.After
	}
	return u
}
