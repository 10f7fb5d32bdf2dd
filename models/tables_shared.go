package models

import (
	"iter"

	"rodlore/models/spelling"
	"rodlore/models/units"

	"gopkg.in/yaml.v3"
)

var partsTable = table[Parts]{
	example: "{rings: {SL-6: {...}}, seats: {...}}",
	keys: []key[Parts]{
		{string(RingPart), optional, partsOf(RingPart)},
		{string(SeatPart), optional, partsOf(SeatPart)},
		{string(GripPart), optional, partsOf(GripPart)},
		{string(CapPart), optional, partsOf(CapPart)},
		{string(ThreadPart), optional, partsOf(ThreadPart)},
		{string(VarnishPart), optional, partsOf(VarnishPart)},
	},
	check: checkPartNames,
}

var partTables = map[PartKind]*table[Part]{
	RingPart: &ringPartTable, SeatPart: &seatPartTable, GripPart: &gripPartTable,
	CapPart: &capPartTable, ThreadPart: &threadPartTable, VarnishPart: &varnishPartTable,
}

// feetUnknown marks a ring whose feet were not readable; its file has a fault.
const feetUnknown = -1

// partsOf reads the parts of one kind, each under its own name.
func partsOf(kind PartKind) reader[Parts] {
	tab := partTables[kind]
	return reader[Parts]{
		read: func(v value, into *Parts) {
			for name, entry := range v.named(tab.example) {
				part := &Part{Name: name.Value, Kind: kind}
				if kind == RingPart {
					part.Feet = feetUnknown
				}
				tab.read(entry, part)
				part.Pos = v.doc.pos(name)
				into.All = append(into.All, part)
			}
		},
	}
}

// bracketed is the path of what the maker named name in v.
func (v value) bracketed(name string) string {
	if v.path == "" {
		return spelling.Shorten(name)
	}
	return v.path + "[" + spelling.Shorten(name) + "]"
}

// named yields the entries of a map whose keys are names of the maker's own.
func (v value) named(example string) iter.Seq2[*yaml.Node, value] {
	return func(yield func(*yaml.Node, value) bool) {
		if v.node.Kind != yaml.MappingNode {
			v.fault("is %s; expected names, each with entries such as %s", describe(v.node), example)
			return
		}
		for k, entry := range v.pairs(v.bracketed) {
			name := value{v.doc, k, entry.path}
			if text, ok := name.text("a name"); ok && name.nameable(text) && !entry.refused() && !yield(k, entry) {
				return
			}
		}
	}
}

func partMass(most string) reader[Part] {
	return quantity(func(p *Part) *Given[units.Mass] { return &p.Mass }, fromZero(most))
}

var partPrice = quantity(func(p *Part) *Given[units.Money] { return &p.Price }, fromZero("100000"))

var ringPartTable = table[Part]{
	example: "{size: 6 mm, height: 7 mm, feet: 1, foot: {...}, frame: steel, mass: 0.32 g}",
	keys: []key[Part]{
		{"size", required, quantity(func(p *Part) *Given[units.Length] { return &p.Size }, upTo("100 mm"))},
		{"height", required, quantity(func(p *Part) *Given[units.Length] { return &p.Height }, upTo("150 mm"))},
		{"feet", required, count(func(p *Part) *int { return &p.Feet }, 0, 2)},
		{"foot", optional, nested(func(p *Part) *Foot { return &p.Foot }, &footTable)},
		{"frame", optional, word(func(p *Part) *Word { return &p.Frame })},
		{"mass", required, partMass("1 kg")},
		{"price", optional, partPrice},
	},
	check: checkRingPart,
}

var footTable = table[Foot]{
	example: "{length: 9 mm, width: 1.6 mm, thickness: 0.35 mm}",
	pos:     func(f *Foot) *Pos { return &f.Pos },
	keys: []key[Foot]{
		{"length", required, quantity(func(f *Foot) *Given[units.Length] { return &f.Length }, upTo("100 mm"))},
		{"width", required, quantity(func(f *Foot) *Given[units.Length] { return &f.Width }, upTo("30 mm"))},
		{"thickness", required, quantity(func(f *Foot) *Given[units.Length] { return &f.Thickness }, upTo("10 mm"))},
		{"spread", optional, quantity(func(f *Foot) *Given[units.Length] { return &f.Spread }, upTo("300 mm"))},
		{"bonding", optional, quantity(func(f *Foot) *Given[units.Share] { return &f.Bonding }, fromZero("100 %"))},
	},
}

var (
	seatPartTable = handlePart("{length: 95 mm, diameter: 22 mm, mass: 28 g, price: 14}", required, optional)
	gripPartTable = handlePart("{length: 90 mm, diameter: 25 mm, mass: 7 g}", required, required)
	capPartTable  = handlePart("{length: 18 mm, diameter: 24 mm, mass: 9 g, price: 3}", optional, optional)

	threadPartTable  = layerPart("{thickness: 0.15 mm, density: 1150 kg/m3, modulus: 2 GPa}")
	varnishPartTable = layerPart("{thickness: 0.10 mm, density: 1150 kg/m3, modulus: 2.8 GPa}")
)

// handlePart is the table of a part of the handle.
func handlePart(example string, length, diameter need) table[Part] {
	return table[Part]{example: example, keys: []key[Part]{
		{"length", length, quantity(func(p *Part) *Given[units.Length] { return &p.Length }, upTo("2 m"))},
		{"diameter", diameter, quantity(func(p *Part) *Given[units.Length] { return &p.Diameter }, upTo(thickest))},
		{"mass", required, partMass("2 kg")},
		{"price", optional, partPrice},
	}}
}

// layerPart is the table of what lies round the blank.
func layerPart(example string) table[Part] {
	return table[Part]{example: example, keys: []key[Part]{
		{"thickness", required, quantity(func(p *Part) *Given[units.Length] { return &p.Thickness }, upTo("5 mm"))},
		{"density", required, quantity(func(p *Part) *Given[units.Density] { return &p.Density }, between("10 kg/m3", "25000 kg/m3"))},
		{"modulus", required, quantity(func(p *Part) *Given[units.Stress] { return &p.Modulus }, between("1 MPa", "1000 GPa"))},
		{"price", optional, partPrice},
	}}
}

func modulus(get func(*Material) *Given[units.Stress]) reader[Material] {
	return quantity(get, between("1 MPa", "1000 GPa"))
}

var materialTable = table[Material]{
	example: "{modulus: 110 GPa, density: 1550 kg/m3}",
	pos:     func(m *Material) *Pos { return &m.Pos },
	keys: []key[Material]{
		{"modulus", optional, modulus(func(m *Material) *Given[units.Stress] { return &m.Modulus })},
		{"hoop modulus", optional, modulus(func(m *Material) *Given[units.Stress] { return &m.Hoop })},
		{"density", optional, quantity(func(m *Material) *Given[units.Density] { return &m.Density }, between("10 kg/m3", "25000 kg/m3"))},
		{"strain", optional, nested(func(m *Material) *Material { return m }, &strainTable)},
		{"along", optional, modulus(func(m *Material) *Given[units.Stress] { return &m.E1 })},
		{"across", optional, modulus(func(m *Material) *Given[units.Stress] { return &m.E2 })},
		{"shear", optional, modulus(func(m *Material) *Given[units.Stress] { return &m.G12 })},
		{"poisson", optional, plainRatio(func(m *Material) *Given[units.Share] { return &m.Nu12 }, fromZero("0.6"))},
		{"thickness", optional, quantity(func(m *Material) *Given[units.Length] { return &m.Thickness }, upTo("5 mm"))},
		{"resin", optional, quantity(func(m *Material) *Given[units.Share] { return &m.Resin }, fromZero("100 %"))},
		{"source", optional, source()},
	},
}

var strainTable = table[Material]{
	example: "{compression: 0.8 %, tension: 1.1 %}",
	keys: []key[Material]{
		{"compression", optional, quantity(func(m *Material) *Given[units.Share] { return &m.StrainCompression }, upTo("20 %"))},
		{"tension", optional, quantity(func(m *Material) *Given[units.Share] { return &m.StrainTension }, upTo("20 %"))},
	},
}

// source reads where the values of a material come from.
func source() reader[Material] {
	return scalar("a few words", func(_ value, text string, m *Material) { m.Source = text })
}
