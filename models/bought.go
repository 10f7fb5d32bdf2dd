package models

import (
	"math"
	"slices"

	"rodlore/models/units"
)

// Bought is a section of a blank that was bought: what a maker can measure of it.
// Its walls and modulus are found from that.
type Bought struct {
	Pos      Pos
	Mass     Given[units.Mass]
	Outside  []Station // two at least, from the thin end to the thick one
	Material Family
	Price    Given[units.Money]
}

// Family is what a bought blank is made of, as far as that is known.
type Family string

const (
	CarbonFamily Family = "carbon"
	GlassFamily  Family = "glass"
	CaneFamily   Family = "cane" // solid hexagons of split cane
)

// Families lists every Family.
var Families = []Family{CarbonFamily, GlassFamily, CaneFamily}

// Stuff is what is known beforehand of the blanks of a family: medians, with
// standard deviations of their logarithms.
type Stuff struct {
	Modulus, ModulusSpread float64 // Pa, along the blank
	Density, DensitySpread float64 // kg/m³
	Compression            float64 // strain at which it fails; 0 where none is known
}

// stuffs: moduli along finished blanks lie from 70 to 160 GPa for nineteen carbon
// blanks in twenty, as cloth and plies across lower what fibres have, and from 32
// to 50 GPa for glass; densities follow from fibre volumes of 55 to 65 % (common
// practice, no source). Those of cane are as the built-in material has them.
var stuffs = map[Family]Stuff{
	CarbonFamily: {Modulus: 105e9, ModulusSpread: 0.2, Density: 1550, DensitySpread: 0.03, Compression: 0.008},
	GlassFamily:  {Modulus: 40e9, ModulusSpread: 0.11, Density: 1950, DensitySpread: 0.03, Compression: 0.012},
	CaneFamily:   {Modulus: 38e9, ModulusSpread: 0.2, Density: 1150, DensitySpread: 0.08},
}

// Stuff is what is known of the family beforehand.
func (f Family) Stuff() Stuff { return stuffs[f] }

// BareBlank is what is known of a bought blank as a whole, put together and
// without rings and handle.
type BareBlank struct {
	Pos            Pos
	Mass           Given[units.Mass]
	LabelTestCurve Given[units.Force]  // by another's convention
	Held           Given[units.Length] // as it was measured, from the butt
	Measured       []Measured
}

// HeldTo is how far the blank was held from the butt as it was measured, m: as
// given, otherwise a tenth of its length (common practice, no source).
func (b *BareBlank) HeldTo(length float64) float64 {
	return float64(b.Held.Or(units.Length(length / 10)))
}

var boughtTable = table[Bought]{
	example: "{mass: 118 g, outside: [{at: 0 mm, is: 8.2 mm}, {at: 1830 mm, is: 15.4 mm}], material: carbon}",
	pos:     func(b *Bought) *Pos { return &b.Pos },
	keys: []key[Bought]{
		{"mass", optional, quantity(func(b *Bought) *Given[units.Mass] { return &b.Mass }, upTo(heaviest))},
		{"outside", required, list(func(b *Bought) *[]Station { return &b.Outside }, &outsideTable)},
		{"material", required, choice(func(b *Bought) *Family { return &b.Material }, Families...)},
		{"price", optional, quantity(func(b *Bought) *Given[units.Money] { return &b.Price }, fromZero("100000"))},
	},
	check: checkBought,
}

var blankTable = table[BareBlank]{
	example: "{mass: 171 g, label test curve: 2.75 lb, measured: [...]}",
	pos:     func(b *BareBlank) *Pos { return &b.Pos },
	keys: []key[BareBlank]{
		{"mass", optional, quantity(func(b *BareBlank) *Given[units.Mass] { return &b.Mass }, upTo(heaviest))},
		{"label test curve", optional, quantity(func(b *BareBlank) *Given[units.Force] { return &b.LabelTestCurve }, upTo("100 kg"))},
		{"held", optional, held("{to: 180 mm}", func(b *BareBlank) *Given[units.Length] { return &b.Held })},
		{"measured", optional, measuredOnBlank()},
	},
}

// checkBought checks what can be checked within a bought section.
func checkBought(v value, b *Bought) {
	if len(b.Outside) == 1 {
		v.at(b.Outside[0].At.Pos, "outside", "one diameter says nothing of the taper; expected two at least, one at either end")
	}
	for i := 1; i < len(b.Outside); i++ {
		thin, thick := b.Outside[i-1], b.Outside[i]
		if thin.Outside.Set() && thick.Outside.Set() && thick.Outside.Value < thin.Outside.Value {
			v.at(thick.Outside.Pos, "outside["+atLabel(thick.At.Value)+"].is", "%q is less than %q nearer the tip; stations run from the thin end to the thick one",
				thick.Outside.Text, thin.Outside.Text)
		}
	}
}

// thinnestSold is the least wall that a blank is sold with (common practice, no
// source).
const thinnestSold = 0.2e-3 // m

// checkBoughtMass checks that some wall gives the mass of a bought section.
func checkBoughtMass(v value, s *Section) {
	b := s.Bought
	if !b.Mass.Set() || !s.Length.Set() || b.Material == "" || len(b.Outside) < 2 {
		return
	}
	of := b.Material.Stuff()
	mass := float64(b.Mass.Value)
	const deviations = 3
	if b.Material == CaneFamily {
		usual := HexagonOfRound * b.massOf(of.Density, func(outside float64) float64 { return outside / 2 })
		if off := math.Log(mass / usual); math.Abs(off) > deviations*of.DensitySpread {
			v.at(b.Mass.Pos, "bought.mass", "%q is not what solid cane over those flats weighs, about %.0f g; look at mass and flats again, and where it is built hollow write hexagon: with its hollow",
				b.Mass.Text, 1e3*usual)
		}
		return
	}
	most := b.massOf(of.Density*math.Exp(deviations*of.DensitySpread), func(outside float64) float64 { return outside / 2 })
	least := b.massOf(of.Density*math.Exp(-deviations*of.DensitySpread), func(outside float64) float64 { return min(thinnestSold, outside/2) })
	switch {
	case mass > most:
		v.at(b.Mass.Pos, "bought.mass", "%q is more than solid %s of that outside weighs, %.0f g; look at mass and diameters again", b.Mass.Text, b.Material, 1e3*most)
	case mass < least:
		v.at(b.Mass.Pos, "bought.mass", "%q is less than %s of that outside weighs with a wall of %.1f mm, %.0f g; look at mass and diameters again",
			b.Mass.Text, b.Material, 1e3*thinnestSold, 1e3*least)
	}
}

// HexagonOfRound is the area of a hexagon over that of the circle within it, 2√3/π.
const HexagonOfRound = 2 * 1.7320508075688772 / math.Pi

// massOf is the mass of the section, kg, with a wall by its outside: Simpson's
// rule between stations, which is exact where the wall is linear.
func (b *Bought) massOf(density float64, wall func(outside float64) float64) float64 {
	area := func(outside float64) float64 {
		w := wall(outside)
		return math.Pi * (outside - w) * w
	}
	mass := 0.0
	for i := 1; i < len(b.Outside); i++ {
		a, c := float64(b.Outside[i-1].Outside.Value), float64(b.Outside[i].Outside.Value)
		length := float64(b.Outside[i].At.Value - b.Outside[i-1].At.Value)
		mass += density * length / 6 * (area(a) + 4*area((a+c)/2) + area(c))
	}
	return mass
}

// OfBought reports whether a section of the blank was bought.
func (m *Model) OfBought() bool {
	return slices.ContainsFunc(m.Sections, func(s Section) bool { return s.Bought != nil })
}

// OfCane reports whether every section is of split cane.
func (m *Model) OfCane() bool {
	return !slices.ContainsFunc(m.Sections, func(s Section) bool {
		return s.Hexagon == nil && (s.Bought == nil || s.Bought.Material != CaneFamily)
	})
}

// checkBlank checks that what is said of a bought blank belongs to one.
func checkBlank(v value, m *Model) {
	b := &m.Blank
	if b.Pos == (Pos{}) {
		return
	}
	if !m.OfBought() {
		v.at(b.Pos, "blank", "tells of a bought blank, and no section is bought: what was measured of a rod goes into a file of bench/")
		return
	}
	for i, measured := range b.Measured {
		if name := measured.Section.Text; name != "" && m.SectionIndex(name) < 0 {
			v.at(measured.Section.Pos, measuredPath(i).To("section").String(), "there is no section %q", name)
		}
	}
	checkOnRod(v, m, "blank.held.to", b.Held)
	if !b.Mass.Set() || !m.Length.Set() {
		return
	}
	sum := 0.0
	for _, s := range m.Sections {
		if s.Bought == nil || !s.Bought.Mass.Set() {
			return
		}
		sum += float64(s.Bought.Mass.Value)
	}
	if miss := math.Abs(sum - float64(b.Mass.Value)); miss > 0.01*sum+0.5e-3 {
		v.at(b.Mass.Pos, "blank.mass", "%q is not what its sections weigh together, %.1f g", b.Mass.Text, 1e3*sum)
	}
}
