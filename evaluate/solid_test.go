package evaluate

import (
	"math"
	"testing"

	"rodlore/models"
	"rodlore/models/units"
)

const solidTip = `name: Sedge 5
bare: true
length: 1450 mm
held: {to: 150 mm}
sections:
  - name: butt
    length: 1000 mm
    tube: [{at: 0 mm, outside: 4 mm, wall: 0.5 mm}, {at: 1000 mm, outside: 4 mm, wall: 0.5 mm}]
    material: steel
  - name: tip
    length: 500 mm
    solid: [{at: 0 mm, is: 3 mm}, {at: 500 mm, is: 3 mm}]
    material: glass
joints: [{between: [butt, tip], kind: splice, length: 50 mm, mass: 0.5 g}]
`

// TestSolidTip holds a solid tip in a hollow butt against the handbook: A = πd²/4 and
// I = πd⁴/64 of a circle (Machinery's Handbook, moments of inertia, from memory), the
// stiffnesses of two members of one axis added (Gere and Timoshenko 1997, Mechanics of
// Materials, section 6.2, composite beams, from memory), and the deflection at the end
// by the unit load, ∫x²/EI dx.
func TestSolidTip(t *testing.T) {
	s := readSpec(t, solidTip)
	r := must(assemble(s, models.DefaultSettings()))
	steel, glass := stuffOf(s.Materials["steel"]), stuffOf(s.Materials["glass"])
	round := func(d float64) (area, second float64) { return math.Pi * d * d / 4, math.Pi * math.Pow(d, 4) / 64 }
	in, inSecond := round(3e-3)
	out, outSecond := round(4e-3)
	tip, butt := glass.modulus*inSecond, steel.modulus*(outSecond-inSecond)
	near(t, "stiffness of the tip", r.pieceAt(1.2).at(1.2).EI, tip, 1e-12)
	near(t, "stiffness of the butt", r.pieceAt(0.5).at(0.5).EI, butt, 1e-12)
	near(t, "stiffness of the splice", r.pieceAt(0.97).at(0.97).EI, tip+butt, 1e-12)
	mass := glass.density*in*0.5 + steel.density*(out-in)*1 + 0.5e-3
	near(t, "mass", r.wholeRod().mass, mass, 1e-9)
	near(t, "mass of the piece, by either name", r.section(1).mass, mass, 1e-9)
	compliance := (math.Pow(0.45, 3)/tip + (math.Pow(0.5, 3)-math.Pow(0.45, 3))/(tip+butt) + (math.Pow(1.3, 3)-math.Pow(0.5, 3))/butt) / 3
	figs := must(New(s, models.DefaultSettings()).Figures())
	stiffness, ok := figs.Get("tip-stiffness")
	if !ok {
		t.Fatal("no tip stiffness")
	}
	near(t, "stiffness at the end", stiffness.Value, 1/compliance, 1e-4)
}

// TestSpliceBearsWhatItsWeakerMemberBears: both members of a splice bend alike, so
// that the thinner one is strained less; which fails first decides.
func TestSpliceBearsWhatItsWeakerMemberBears(t *testing.T) {
	for _, test := range []struct{ hollow, solid, want float64 }{
		{0.008, 0.012, 0.008},        // the hollow one, at its own outside
		{0.02, 0.012, 0.012 * 4 / 3}, // the solid one, when the outside is strained by a third more
		{0, 0.012, 0.012 * 4 / 3},
	} {
		s := readSpec(t, solidTip)
		for name, limit := range map[string]float64{"steel": test.hollow, "glass": test.solid} {
			m := *s.Materials[name]
			m.StrainCompression.Value = units.Share(limit)
			s.Materials[name] = &m
		}
		r := must(assemble(s, models.DefaultSettings()))
		near(t, "strain at the outside of the splice", r.pieceAt(0.97).at(0.97).Allow, test.want, 1e-12)
	}
}
