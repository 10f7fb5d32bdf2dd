package models

import (
	"cmp"
	"slices"

	"gopkg.in/yaml.v3"

	"rodlore/models/spelling"
	"rodlore/models/units"
)

// Fitted is how a rod that was measured came out against its spec, as far as its
// measurements tell. Figures are worked out with it.
type Fitted struct {
	Pos  Pos
	To   Word // the rod, "rod 0147"
	Date Date
	Came
	// KnownTo is what its measurements left open: parts that are independent of each
	// other, by one standard deviation each.
	KnownTo []Came
}

// Came is how a rod came out against its spec.
type Came struct {
	Modulus []OfSection[units.Share]  // more than the materials say, all along a section
	Wall    []OfSection[units.Length] // more than the spec says, all along a section
	// FootBonding is added to that of every foot; Damping is a share of the
	// range's, more or less.
	FootBonding, Damping Given[units.Share]
}

// Off is the fit for a rod on which the parts that are not known came out so, in
// standard deviations.
func (f *Fitted) Off(known []float64) *Fitted {
	if f == nil || !slices.ContainsFunc(known, func(e float64) bool { return e != 0 }) {
		return f
	}
	off := *f
	off.Modulus, off.Wall = slices.Clone(f.Modulus), slices.Clone(f.Wall)
	for k, e := range known {
		part := f.KnownTo[k]
		off.Modulus, off.Wall = append(off.Modulus, times(part.Modulus, e)...), append(off.Wall, times(part.Wall, e)...)
		off.FootBonding.Value += units.Share(e) * part.FootBonding.Value
		off.Damping.Value += units.Share(e) * part.Damping.Value
	}
	return &off
}

// times is a list so many times over.
func times[U ~float64](list []OfSection[U], e float64) []OfSection[U] {
	list = slices.Clone(list)
	for i := range list {
		list[i].By.Value *= U(e)
	}
	return list
}

// OfSection is a quantity of one section.
type OfSection[U ~float64] struct {
	Section Word
	By      Given[U]
}

// of is the quantity of a section, 0 where there is none.
func of[U ~float64](list []OfSection[U], section string) (sum float64) {
	for _, o := range list {
		if o.Section.Text == section {
			sum += float64(o.By.Value)
		}
	}
	return sum
}

// came is how the rod came out; of none, as it is written.
func (f *Fitted) came() Came {
	if f == nil {
		return Came{}
	}
	return f.Came
}

// ModulusOf is by how much, as a share, the modulus of a section's materials is
// more than they say.
func (f *Fitted) ModulusOf(section string) float64 { return of(f.came().Modulus, section) }

// WallOf is by how much the wall of a section is more than its spec says, m.
func (f *Fitted) WallOf(section string) float64 { return of(f.came().Wall, section) }

// Bonding is what is added to the bonding of every foot.
func (f *Fitted) Bonding() float64 { return float64(f.came().FootBonding.Value) }

// DampingRatio is that of the rod's damping to the range's.
func (f *Fitted) DampingRatio() float64 { return 1 + float64(f.came().Damping.Value) }

// Empty reports whether nothing was fitted.
func (f *Came) Empty() bool {
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
		{"modulus", optional, bySection(func(f *Fitted) *[]OfSection[units.Share] { return &f.Modulus }, modulusOff)},
		{"wall", optional, bySection(func(f *Fitted) *[]OfSection[units.Length] { return &f.Wall }, wallOff)},
		{"foot bonding", optional, quantity(func(f *Fitted) *Given[units.Share] { return &f.FootBonding }, bondingOff)},
		{"damping", optional, quantity(func(f *Fitted) *Given[units.Share] { return &f.Damping }, dampingOff)},
		{"known to", optional, listUpTo(4*maxSections, func(f *Fitted) *[]Came { return &f.KnownTo }, &cameTable)},
	},
}

// What a rod may be off by at the most.
var (
	modulusOff, wallOff    = between("-80 %", "400 %"), between("-5 mm", "5 mm")
	bondingOff, dampingOff = between("-100 %", "100 %"), between("-90 %", "900 %")
)

var cameTable = table[Came]{
	example: "{modulus: {butt: 1.8 %, tip: -0.4 %}, wall: {butt: 0.01 mm}}",
	keys: []key[Came]{
		{"modulus", optional, bySection(func(c *Came) *[]OfSection[units.Share] { return &c.Modulus }, modulusOff)},
		{"wall", optional, bySection(func(c *Came) *[]OfSection[units.Length] { return &c.Wall }, wallOff)},
		{"foot bonding", optional, quantity(func(c *Came) *Given[units.Share] { return &c.FootBonding }, bondingOff)},
		{"damping", optional, quantity(func(c *Came) *Given[units.Share] { return &c.Damping }, dampingOff)},
	},
}

// bySection reads a map of quantities by the names of sections.
func bySection[T any, U ~float64](get func(*T) *[]OfSection[U], l interval) reader[T] {
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
	for _, c := range append([]Came{m.Fitted.Came}, m.Fitted.KnownTo...) {
		for _, o := range c.Modulus {
			m.checkFittedSection(v, "modulus", o.Section)
		}
		for _, o := range c.Wall {
			m.checkFittedSection(v, "wall", o.Section)
		}
	}
}

func (m *Model) checkFittedSection(v value, key string, section Word) {
	if m.SectionIndex(section.Text) >= 0 {
		return
	}
	hint := cmp.Or(spelling.DidYouMean(section.Text, m.SectionNames()), "; fit the model anew or take the line out")
	v.at(section.Pos, "fitted."+key+"."+section.Text, "no section is named %q%s", spelling.Shorten(section.Text), hint)
}
