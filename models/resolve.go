package models

import "iter"

// Spec is a model's spec with every shared part and material that it uses
// filled in. It is what figures are worked out from and what a revision is.
type Spec struct {
	*Model
	Parts     map[string]*Part     // the parts used, by name
	Materials map[string]*Material // the materials used, by name
}

// Field is one leaf of a resolved spec.
type Field struct {
	// Path names the leaf and stays the same when a list is reordered: list
	// entries are keyed by name or position, "sections[tip].tube[at 0 mm].wall",
	// "rings[at 95 mm].part", "parts[SL-6].mass".
	Path  string
	Value float64 // in Unit; NaN where the leaf is text
	Unit  string  // SI, "m", "kg", "N", "Pa", "1"; "" for text
	Text  string  // as written
	Pos   Pos
}

// IsText reports whether the leaf is words and not a number.
func (f Field) IsText() bool { return f.Unit == "" }

// Fields yields every leaf of the spec in a fixed order: the model in the order
// of the format, then the parts and the materials it uses by name.
func (s *Spec) Fields() iter.Seq[Field] { panic("not yet") }

// ID is the revision's identity: the SHA-256, in hexadecimal, of the resolved
// spec's leaves. Layout, comments, the order of keys and the spelling of a
// quantity leave it as it is.
func (s *Spec) ID() string { panic("not yet") }

// Resolve looks up the parts and materials that m names and checks what can
// only be checked with them. The error, if any, is a Faults with every fault.
func Resolve(m *Model, parts *Parts, materials *Materials) (*Spec, error) { panic("not yet") }
