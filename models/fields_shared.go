package models

import "iter"

// Fields yields every leaf of the part as Spec.Fields does.
func (p *Part) Fields() iter.Seq[Field] {
	return func(yield func(Field) bool) { (&walk{yield: yield}).part(p) }
}

// Fields yields every leaf of the material as Spec.Fields does.
func (m *Material) Fields() iter.Seq[Field] {
	return func(yield func(Field) bool) { (&walk{yield: yield}).material(m) }
}
