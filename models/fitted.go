package models

import (
	"gopkg.in/yaml.v3"

	"rodlore/models/spelling"
	"rodlore/models/units"
)

// Fitted is how a rod that was measured came out against its spec, as far as its
// measurements tell. Figures are worked out with it.
type Fitted struct {
	Pos     Pos
	To      Word // the rod, "rod 0147"
	Date    Date
	Modulus []OfSection[units.Share]  // more than the materials say, all along a section
	Wall    []OfSection[units.Length] // more than the spec says, all along a section
	// FootBonding is added to that of every foot; Damping is a share of the
	// range's, more or less.
	FootBonding, Damping Given[units.Share]
}

// OfSection is a quantity of one section.
type OfSection[U ~float64] struct {
	Section Word
	By      Given[U]
}

// of is the quantity of a section, 0 where there is none.
func of[U ~float64](list []OfSection[U], section string) float64 {
	for _, o := range list {
		if o.Section.Text == section {
			return float64(o.By.Value)
		}
	}
	return 0
}

// ModulusOf is by how much, as a share, the modulus of a section's materials is
// more than they say.
func (f *Fitted) ModulusOf(section string) float64 {
	if f == nil {
		return 0
	}
	return of(f.Modulus, section)
}

// WallOf is by how much the wall of a section is more than its spec says, m.
func (f *Fitted) WallOf(section string) float64 {
	if f == nil {
		return 0
	}
	return of(f.Wall, section)
}

// Bonding is what is added to the bonding of every foot.
func (f *Fitted) Bonding() float64 {
	if f == nil {
		return 0
	}
	return float64(f.FootBonding.Value)
}

// DampingRatio is that of the rod's damping to the range's.
func (f *Fitted) DampingRatio() float64 {
	if f == nil {
		return 1
	}
	return 1 + float64(f.Damping.Value)
}

// Empty reports whether nothing was fitted.
func (f *Fitted) Empty() bool {
	return len(f.Modulus)+len(f.Wall) == 0 && !f.FootBonding.Set() && !f.Damping.Set()
}

// Unfitted is the spec without what it was fitted to.
func (s *Spec) Unfitted() *Spec {
	if s.Fitted == nil {
		return s
	}
	m := *s.Model
	m.Fitted = nil
	return &Spec{Model: &m, Parts: s.Parts, Materials: s.Materials}
}

var fittedTable = table[Fitted]{
	example: "{to: rod 0147, date: 2026-11-07, modulus: {butt: 2.3 %, tip: -1.1 %}}",
	pos:     func(f *Fitted) *Pos { return &f.Pos },
	keys: []key[Fitted]{
		{"to", required, word(func(f *Fitted) *Word { return &f.To })},
		{"date", required, date(func(f *Fitted) *Date { return &f.Date })},
		{"modulus", optional, bySection(func(f *Fitted) *[]OfSection[units.Share] { return &f.Modulus }, between("-80 %", "400 %"))},
		{"wall", optional, bySection(func(f *Fitted) *[]OfSection[units.Length] { return &f.Wall }, between("-5 mm", "5 mm"))},
		{"foot bonding", optional, quantity(func(f *Fitted) *Given[units.Share] { return &f.FootBonding }, between("-100 %", "100 %"))},
		{"damping", optional, quantity(func(f *Fitted) *Given[units.Share] { return &f.Damping }, between("-90 %", "900 %"))},
	},
}

// bySection reads a map of quantities by the names of sections.
func bySection[T any, U ~float64](get func(*T) *[]OfSection[U], l limits) reader[T] {
	one := quantity(func(o *OfSection[U]) *Given[U] { return &o.By }, l)
	expect := "sections and quantities such as {butt: " + units.Of[U]().Example + "}"
	return reader[T]{
		expect: expect,
		read: func(v value, into *T) {
			if v.node.Kind != yaml.MappingNode {
				v.fault("is %s; expected %s", describe(v.node), expect)
				return
			}
			for name, entry := range v.pairs(v.under) {
				o := OfSection[U]{Section: Word{name.Value, v.doc.pos(name)}}
				if !entry.refused() {
					one.read(entry, &o)
				}
				*get(into) = append(*get(into), o)
			}
		},
		walk: func(w *walk, path Path, from *T) {
			for _, o := range *get(from) {
				given(w, path.To(o.Section.Text), o.By)
			}
		},
	}
}

// checkFitted checks that what was fitted is of sections that there are.
func checkFitted(v value, m *Model) {
	if m.Fitted == nil {
		return
	}
	for _, o := range m.Fitted.Modulus {
		m.checkFittedSection(v, "modulus", o.Section)
	}
	for _, o := range m.Fitted.Wall {
		m.checkFittedSection(v, "wall", o.Section)
	}
}

func (m *Model) checkFittedSection(v value, key string, section Word) {
	var names []string
	for _, s := range m.Sections {
		if s.Name.Text == section.Text {
			return
		}
		names = append(names, s.Name.Text)
	}
	hint := spelling.DidYouMean(section.Text, names)
	if hint == "" {
		hint = "; fit the model anew or take the line out"
	}
	v.at(section.Pos, "fitted."+key+"."+section.Text, "no section is named %q%s", spelling.Shorten(section.Text), hint)
}
