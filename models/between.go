package models

import "rodlore/models/units"

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
