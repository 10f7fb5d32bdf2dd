package evaluate

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"rodlore/models"
)

// InputKind is what is known only so well of a thing.
type InputKind string

const (
	OutsideInput     InputKind = "outside"       // diameter, all along a section
	WallInput        InputKind = "wall"          // all along a section
	ModulusInput     InputKind = "modulus"       // share, of one material in a section
	DensityInput     InputKind = "density"       // share, of one material in a section
	PositionInput    InputKind = "ring position" // from the tip
	MassInput        InputKind = "part mass"     // share, of one bought part
	WhippingInput    InputKind = "whipping"      // length over each foot of a ring, or at a joint
	GripDensityInput InputKind = "grip density"  // share
	TurnInput        InputKind = "turn"          // of the tip that the maker's eye takes for square
	BondingInput     InputKind = "foot bonding"  // added to the share of every ring's feet
	HoopInput        InputKind = "hoop modulus"  // logarithm of its ratio to what the material of a tube says
	DampingInput     InputKind = "damping"       // logarithm of its ratio to what the range says
	KnownInput       InputKind = "known"         // a part of what is not known of a blank, bought or fitted
)

// InputID names one input. The errors of two specs are one and the same where
// their inputs have the same ID, and independent of each other elsewhere:
//
//   - A section has its errors in common with one of the same name, taper and
//     materials, of which it may be cut (Taper.CutFrom). Anything else is another
//     blank.
//   - Bought parts and grips are counted from the tip and from the butt: the
//     third SL-8 is the third SL-8, wherever it stands, as a maker who moves a
//     ring takes the one that is there.
//   - A ring that was moved, or taken for another, is measured and whipped anew.
//   - The eye at the test curve, the feet's bonding and the damping are the same
//     for all rods.
type InputID struct {
	Kind InputKind
	Of   string // what it is of: "tip", "SL-8"; "" for what is no part of the rod
	Item string // which of them, and what makes it the same one in another spec
}

// Input is a number that a spec gives, or takes for granted, and that a rod is
// built to, or known, only so well.
type Input struct {
	ID        InputID
	Name      Note    // "wall of the tip"
	Deviation float64 // one standard deviation, in Unit
	Unit      string  // SI; "1" for a share
}

// What is known of numbers that no range.yaml gives a tolerance for, as
// standard deviations.
const (
	// turnDeviation is the judgement of an eye, rad: one degree.
	turnDeviation = math.Pi / 180
	// dampingDeviation is that of the damping's logarithm: first modes of rods
	// lie between 1 and 3 % of critical (common practice, no source).
	dampingDeviation = 0.3
	// hoopDeviation is that of the logarithm of a hoop modulus that is given, and
	// usualHoopDeviation of one that is taken for granted (common practice, no
	// source).
	hoopDeviation, usualHoopDeviation = 0.1, 0.3
	// bondingDeviation is added to the share of a foot that takes part, so 0.1 is
	// ten points of bonding (common practice, no source).
	bondingDeviation = 0.1
)

// exported are the inputs as callers see them.
func exported(inputs []perturbation) []Input {
	list := make([]Input, len(inputs))
	for i, in := range inputs {
		list[i] = in.Input
	}
	return list
}

// perturbation is an Input with the place in a build where it is put off.
type perturbation struct {
	Input
	in           func(*build) *float64
	proportional bool // the figures change in proportion to it
	weightsOnly  bool // nothing of what bends and swings changes with it
}

// bothWays gives what read reads of a rod with an input so many deviations less and so
// many more.
func bothWays[T any](in perturbation, b *build, deviations float64, read func(*build) (T, error)) (minus, plus T, err error) {
	at := in.in(b)
	defer func() { *at = 0 }()
	*at = -deviations * in.Deviation
	if minus, err = read(b); err != nil {
		return minus, plus, err
	}
	*at = deviations * in.Deviation
	plus, err = read(b)
	return minus, plus, err
}

func inputsOf(s *models.Spec, set *models.Settings) []perturbation {
	l := inputList{spec: s, dev: deviationsOf(s, set), seen: map[string]int{}}
	for i := range s.Sections {
		l.section(i)
	}
	l.notKnown(set)
	for i := range s.Rings {
		l.ring(i)
	}
	for i := range s.Joints {
		l.joint(i)
	}
	l.handle()
	l.settings()
	return l.inputs
}

// deviations are the standard deviations that hold for a spec, SI.
type deviations struct{ outside, wall, modulus, density, position, mass, whipping, grip float64 }

func deviationsOf(s *models.Spec, set *models.Settings) deviations {
	own, all := s.Tolerances, set.Tolerances
	return deviations{
		outside:  float64(own.Outside.Or(all.Outside.Value)),
		wall:     float64(own.Wall.Or(all.Wall.Value)),
		modulus:  float64(own.Modulus.Or(all.Modulus.Value)),
		density:  float64(own.Density.Or(all.Density.Value)),
		position: float64(own.RingPosition.Or(all.RingPosition.Value)),
		mass:     float64(own.PartMass.Or(all.PartMass.Value)),
		whipping: float64(own.Whipping.Or(all.Whipping.Value)),
		grip:     float64(own.GripDensity.Or(all.GripDensity.Value)),
	}
}

// inputList gathers the inputs of a spec.
type inputList struct {
	spec   *models.Spec
	dev    deviations
	seen   map[string]int // how many of a thing there were so far
	inputs []perturbation
}

// add adds an input; one without deviation is exact and no input.
func (l *inputList) add(kind InputKind, of, item string, name Note, deviation float64, unit string, in func(*build) *float64) {
	if deviation > 0 {
		l.inputs = append(l.inputs, perturbation{Input: Input{InputID{kind, of, item}, name, deviation, unit}, in: in, proportional: inProportion[kind]})
	}
}

// inProportion are the kinds that act through a mass alone, or nearly so, or so
// little that nothing bends.
var inProportion = map[InputKind]bool{DensityInput: true, MassInput: true, WhippingInput: true, GripDensityInput: true, PositionInput: true}

// section adds the inputs of one section. Where it is known by its measured
// stiffness, that and its mass are what scatters.
func (l *inputList) section(i int) {
	s := l.spec.Sections[i]
	of, blank := s.Name.Text, blankID(l.spec, i)
	if len(s.Stiffness) == 0 {
		l.add(OutsideInput, of, blank, NewNote("inputs.outside", "section", of), l.dev.outside, "m", func(b *build) *float64 { return &b.sections[i].outside })
	}
	if hasWall(s) {
		l.add(WallInput, of, blank, NewNote("inputs.wall", "section", of), l.dev.wall, "m", func(b *build) *float64 { return &b.sections[i].wall })
	}
	for j, material := range sectionMaterials(s) {
		item, stiffness, density := blank, NewNote("inputs.stiffness", "section", of), NewNote("inputs.mass", "section", of)
		if material != "" {
			item += " " + material
			stiffness, density = NewNote("inputs.modulus", "material", material, "section", of), NewNote("inputs.density", "material", material, "section", of)
		}
		hoop := NewNote("inputs.hoop", "material", material, "section", of)
		l.add(ModulusInput, of, item, stiffness, l.dev.modulus, "1", func(b *build) *float64 { return &b.sections[i].modulus[j] })
		if s.Bought != nil && hasWall(s) {
			l.add(HoopInput, of, item, hoop, usualHoopDeviation, "1", func(b *build) *float64 { return &b.sections[i].hoop })
		}
		if m := l.spec.Materials[material]; len(s.Tube) > 0 && wallMatters(s.Tube, m) {
			deviation := usualHoopDeviation
			if m.Hoop.Set() {
				deviation = hoopDeviation
			}
			l.add(HoopInput, of, item, hoop, deviation, "1", func(b *build) *float64 { return &b.sections[i].hoop })
		}
		l.add(DensityInput, of, item, density, l.dev.density, "1", func(b *build) *float64 { return &b.sections[i].density[j] })
	}
}

// hasWall reports whether a section is a tube.
func hasWall(s models.Section) bool {
	return len(s.Tube) > 0 || s.Rolled != nil || s.Bought != nil && s.Bought.Material != models.CaneFamily
}

// wallMatters says that a tube's wall buckles not far from where its material
// fails, or before.
func wallMatters(stations []models.Station, m *models.Material) bool {
	const near = 2 // as far as three deviations of the modulus round the hoop go
	of := stuffOf(m)
	of.allow *= near
	for _, st := range stations {
		t := newTube(float64(st.Outside.Value), float64(st.Wall.Value), of)
		c := cross{Outside: t.Outside, Allow: t.Allow, Shell: t.Shell}
		c.Wall, c.WallBy = c.wallLimit()
		if most, by := c.bears(); most > 0 && by != MaterialFails {
			return true
		}
	}
	return false
}

// notKnown adds what is not known of a bought blank and of a rod that was fitted. A
// blank that could not be found has no figures either, and so no inputs.
func (l *inputList) notKnown(set *models.Settings) {
	if blank, err := boughtOf(l.spec, set); err == nil && blank != nil {
		for k, u := range blank.free {
			l.unknown(u.Section, knownID(l.spec, set, u.section)+" "+string(u.Free), k)
		}
	}
	if f := l.spec.Fitted; f != nil {
		for k := range f.KnownTo {
			l.unknown("", shortHash(said(l.spec, "fitted"))+" "+strconv.Itoa(k), hiddenPerSection*len(l.spec.Sections)+k)
		}
	}
}

// unknown adds a part of what is not known of a blank, which stands at that place in
// builds.
func (l *inputList) unknown(of, item string, at int) {
	l.add(KnownInput, of, item, NewNote("inputs.known"), 1, "1", func(b *build) *float64 { return &b.known[at] })
}

// knownID tells apart what is not known of a section. What was read of a bought blank
// was read of it as a whole; else what is not known of a section is its own.
func knownID(s *models.Spec, set *models.Settings, section int) string {
	if blank, err := boughtOf(s, set); err == nil && blank != nil && blank.fitting != nil {
		return shortHash(blank.id)
	}
	return blankID(s, section)
}

// sectionMaterials are the materials that a section is of, each once; one
// without a name where only its stiffness is known.
func sectionMaterials(s models.Section) []string {
	switch {
	case s.OfOneMaterial():
		return []string{s.Material.Text}
	case s.Bought != nil:
		return []string{string(s.Bought.Material)}
	case s.Rolled == nil:
		return []string{""}
	}
	var list []string
	for _, p := range s.Rolled.Plies {
		if !slices.Contains(list, p.Material.Text) {
			list = append(list, p.Material.Text)
		}
	}
	return list
}

// ring adds the inputs of ring i. The tip ring stands where the blank ends.
func (l *inputList) ring(i int) {
	g := l.spec.Rings[i]
	part := l.spec.Parts[g.Part.Text]
	name := func(of string) Note {
		return NewNote("inputs.ring."+of, "part", g.Part.Text, "place", quantity("m", g.At.Value))
	}
	stands := fmt.Sprintf("at %.9g", float64(g.At.Value))
	if i > 0 {
		l.add(PositionInput, g.Part.Text, stands, name("position"), l.dev.position, "m", func(b *build) *float64 { return &b.rings[i].at })
	}
	l.bought(part, name("mass"), func(b *build) *float64 { return &b.rings[i].mass })
	if whipping := whippingOn(g, part); whipping > 0 && l.whipped() {
		item := fmt.Sprintf("%s, %.9g", stands, whipping)
		l.add(WhippingInput, g.Part.Text, item, name("whipping"), l.dev.whipping, "m", func(b *build) *float64 { return &b.rings[i].whipping })
	}
}

// joint adds the input of joint i: how long its whippings are.
func (l *inputList) joint(i int) {
	j := l.spec.Joints[i]
	if given := j.Whipping; l.whipped() && (!given.Set() || given.Value > 0) {
		of := j.Between[0].Text + " and " + j.Between[1].Text
		l.add(WhippingInput, of, fmt.Sprintf("%.9g", float64(given.Value)), NewNote("inputs.joint.whipping", "lower", j.Between[0].Text, "upper", j.Between[1].Text), l.dev.whipping, "m", func(b *build) *float64 { return &b.joints[i] })
	}
}

// whipped says that whippings are of something.
func (l *inputList) whipped() bool { return l.spec.Finish.Thread.Text+l.spec.Finish.Varnish.Text != "" }

// bought adds the mass of one more of a bought part. Another mass in parts.yaml
// is another part.
func (l *inputList) bought(part *models.Part, name Note, in func(*build) *float64) {
	if part == nil || part.Mass.Value == 0 {
		return
	}
	l.add(MassInput, part.Name, l.next(part.Name, float64(part.Mass.Value)), name, l.dev.mass, "1", in)
}

// next numbers the things of one name and nominal value.
func (l *inputList) next(name string, nominal float64) string {
	key := fmt.Sprintf("%s %.9g", name, nominal)
	l.seen[key]++
	return fmt.Sprintf("%.9g, no. %d", nominal, l.seen[key])
}

// handle adds the inputs of seat, grips and butt cap, none of which bends where
// the rod is held to the front of them.
func (l *inputList) handle() {
	h, first := l.spec.Handle, len(l.inputs)
	l.bought(l.spec.Parts[h.Seat.Part.Text], NewNote("inputs.seat"), func(b *build) *float64 { return &b.seat })
	l.bought(l.spec.Parts[h.Cap.Part.Text], NewNote("inputs.cap"), func(b *build) *float64 { return &b.cap })
	for i, g := range h.Grips {
		in := func(b *build) *float64 { return &b.grips[i] }
		at := quantity("m", g.From.Value)
		if part := l.spec.Parts[g.Part.Text]; part != nil {
			l.bought(part, NewNote("inputs.grip", "place", at), in)
			continue
		}
		density := float64(l.spec.Materials[g.Material.Text].Density.Value)
		l.add(GripDensityInput, g.Material.Text, l.next(g.Material.Text, density),
			NewNote("inputs.grip density", "material", g.Material.Text, "place", at), l.dev.grip, "1", in)
	}
	for i := first; i < len(l.inputs); i++ {
		l.inputs[i].weightsOnly = l.spec.HandleFront() <= l.spec.HeldTo()
	}
}

// settings adds what the range takes for granted.
func (l *inputList) settings() {
	l.add(TurnInput, "", "", NewNote("inputs.turn"), turnDeviation, "rad", func(b *build) *float64 { return &b.turn })
	l.add(BondingInput, "", "", NewNote("inputs.bonding"), bondingDeviation, "1", func(b *build) *float64 { return &b.bonding })
	l.add(DampingInput, "", "", NewNote("inputs.damping"), dampingDeviation, "1", func(b *build) *float64 { return &b.damping })
	l.inputs[len(l.inputs)-1].weightsOnly = true
}
