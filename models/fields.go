package models

import (
	"iter"
	"maps"
	"math"
	"slices"
	"strconv"

	"rodlore/evaluate/figures"
	"rodlore/models/units"
)

// Field is one leaf of a resolved spec.
type Field struct {
	Path           Path // names the leaf
	units.Quantity      // of text without a unit, with NaN for a value
	Pos            Pos
}

// IsText reports whether the leaf is words and not a number.
func (f Field) IsText() bool { return f.Unit == "" }

// IsPrice reports whether the leaf says what something costs, which nobody can
// tell from the rod.
func (f Field) IsPrice() bool { return f.Path.Last() == "price" }

// OfRod reports whether the leaf makes the rod the one it is: it could be measured
// on the finished rod, or is knowledge of it from which its figures follow, such
// as readings, a fit and tolerances. What the rod is for, what is wanted of it,
// what is used with it and what its parts cost is not.
func (f Field) OfRod() bool {
	at := f.Path
	if at[0].Key == "tops" && len(at) > 1 {
		at = at[1:]
	}
	switch at[0].Key {
	case "family", "job", "for", "casts", "line", "wants":
		return false
	case "reel": // of one, the rod shows on which side its rings stand and where it sits
		return f.Path.Last() == "kind" || f.Path.Last() == "at"
	}
	return !f.IsPrice()
}

// Fields yields every leaf of the spec in a fixed order: the model in the order
// of the format, then the parts and the materials it uses by name. A leaf that
// was not given is absent, and so is was, which is no part of the rod.
func (s *Spec) Fields() iter.Seq[Field] {
	return func(yield func(Field) bool) {
		w := &walk{yield: yield}
		modelTable.walk(w, nil, s.Model)
		for _, e := range s.Uses() {
			e.walk(w)
		}
	}
}

// SharedEntry is a Part or a Material.
type SharedEntry interface {
	Fields() iter.Seq[Field] // every leaf of it, as Spec.Fields does
	walk(w *walk)
}

// Uses lists the parts and then the materials that the rod has with any of its tops,
// by name.
func (s *Spec) Uses() (entries []SharedEntry) {
	parts, materials := maps.Clone(s.Parts), maps.Clone(s.Materials)
	for _, t := range s.tops {
		maps.Copy(parts, t.Parts)
		maps.Copy(materials, t.Materials)
	}
	for _, name := range slices.Sorted(maps.Keys(parts)) {
		entries = append(entries, parts[name])
	}
	for _, name := range slices.Sorted(maps.Keys(materials)) {
		entries = append(entries, materials[name])
	}
	return entries
}

// walk yields leaves until it is told to stop. The tables by which a spec is read say
// which leaves there are, and in what order.
type walk struct {
	yield func(Field) bool
	done  bool
	pos   Pos // of the map that is gone through
}

// leaf yields the leaf at a path, if it was given.
func (w *walk) leaf(path Path, f Field) {
	if w.done || f.Text == "" {
		return
	}
	f.Path = path
	w.done = !w.yield(f)
}

func (w *walk) word(path Path, word Word) { w.text(path, word.Text, word.Pos) }

func (w *walk) text(path Path, text string, pos Pos) {
	w.leaf(path, Field{Quantity: units.Quantity{Value: math.NaN(), Text: text}, Pos: pos})
}

func (w *walk) number(path Path, value float64) {
	w.leaf(path, Field{Quantity: units.Quantity{Value: value, Unit: units.Ratio.Unit, Text: strconv.FormatFloat(value, 'f', -1, 64)}, Pos: w.pos})
}

// given yields a quantity. It is not a method, since methods have no type parameters.
func given[U ~float64](w *walk, path Path, g Given[U]) {
	w.leaf(path, Field{Quantity: g.Quantity(), Pos: g.Pos})
}

// unwalked is r for a value that is not part of a rod.
func unwalked[T any](r reader[T]) reader[T] {
	r.walk = nil
	return r
}

// measuredOnBlank reads what was measured of a bare blank. A reading with another value or
// another deviation is another reading.
func measuredOnBlank() reader[BareBlank] {
	r := list(func(b *BareBlank) *[]Measured { return &b.Measured }, &measuredTable)
	r.walk = func(w *walk, _ Path, b *BareBlank) {
		for i, m := range b.Measured {
			path := measuredPath(i)
			if m.What != TraceMeasure {
				w.leaf(path.To(string(m.What)), Field{Quantity: units.Quantity{Value: m.Value, Unit: m.Unit, Text: m.Text}, Pos: m.Pos})
			}
			w.leaf(path.To("deviation"), Field{Quantity: units.Quantity{Value: m.Deviation, Unit: m.Unit, Text: m.Text}, Pos: m.Pos})
			measuredTable.walk(w, path, &m)
			pointTable.walkList(w, path.To("trace"), m.Points)
		}
	}
	return r
}

func walkWants(w *walk, path Path, wants *[]Want) {
	for _, want := range *wants {
		unit, under := figures.Of(want.Figure).Unit, path.To(want.Figure)
		if !math.IsInf(want.Min, 0) {
			w.leaf(under.To("least"), Field{Quantity: units.Quantity{Value: want.Min, Unit: unit, Text: want.Text}, Pos: want.Pos})
		}
		if !math.IsInf(want.Max, 0) {
			w.leaf(under.To("most"), Field{Quantity: units.Quantity{Value: want.Max, Unit: unit, Text: want.Text}, Pos: want.Pos})
		}
	}
}

// Fields yields every leaf of the part as Spec.Fields does.
func (p *Part) Fields() iter.Seq[Field] {
	return func(yield func(Field) bool) { p.walk(&walk{yield: yield}) }
}

// Fields yields every leaf of the material as Spec.Fields does.
func (m *Material) Fields() iter.Seq[Field] {
	return func(yield func(Field) bool) { m.walk(&walk{yield: yield}) }
}

func (p *Part) walk(w *walk) {
	path := Path{}.In("parts", entryNamed(p.Name))
	w.text(path.To("kind"), string(p.Kind), p.Pos)
	w.pos = p.Pos
	if tab := partTables[p.Kind]; tab != nil {
		tab.walk(w, path, p)
	}
}

func (m *Material) walk(w *walk) {
	materialTable.walk(w, Path{}.In("materials", entryNamed(m.Name)), m)
}

// figuresFollow yields the leaves of the settings on which figures and their tolerances
// depend, and those by which figures are written.
func (s *Settings) figuresFollow(yield func(Field) bool) {
	settingsTable.walk(&walk{yield: func(f Field) bool {
		return f.Path[0].Key == "maker" || f.Path[0].Key == "steps" || yield(f)
	}}, nil, s)
}
