package models

import (
	"slices"

	"rodlore/models/units"
)

// Between is the quantity that lies a share of the way from a to b, written in
// the unit of b, if it has one, and to the digits of the two. Where b is written in several
// units or with a fraction, it is written in the usual unit to one decimal more
// than a whole number.
func Between[U ~float64](a, b Given[U], way float64) Given[U] {
	if a.Value == b.Value || way <= 0 {
		return a
	}
	if way >= 1 {
		return b
	}
	text, value := units.Between(a.Text, b.Text, a.Value+U(way)*(b.Value-a.Value))
	return Given[U]{Value: value, Text: text, Pos: b.Pos}
}

// Between sets the quantities of the model under those keys to what lies a share of
// the way from a to b where both give one, otherwise to that of a. Lists are those of
// a, of one length with those of b entry by entry.
func (m *Model) Between(a, b *Model, way float64, keys ...string) {
	for _, k := range modelTable.keys {
		if slices.Contains(keys, k.name) {
			k.mix(m, a, b, way)
		}
	}
}
