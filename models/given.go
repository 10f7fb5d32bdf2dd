package models

import (
	"fmt"

	"rodlore/models/units"
)

// Pos is where something was written. The zero Pos means "not from a file".
type Pos struct {
	File string
	Line int // from 1; 0 means unknown
	Col  int // from 1, counted in characters; 0 means unknown
}

// String gives file:line:col, leaves out what is unknown, and gives "-" for
// the zero Pos.
func (p Pos) String() string {
	switch {
	case p.File == "":
		return "-"
	case p.Line == 0:
		return p.File
	case p.Col == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}

// Given is a quantity as the maker gave it: its value in SI units, the text
// that was written and where. Two Givens can be equal in Value and differ in
// Text; such a change is a respelling and no change of the rod.
type Given[U ~float64] struct {
	Value U
	Text  string // as written, "12.5 mm"; "" means not given
	Pos   Pos
}

// Set reports whether the quantity was given at all.
func (g Given[U]) Set() bool { return g.Text != "" }

// Quantity is what was given, whatever it measures.
func (g Given[U]) Quantity() units.Quantity {
	return units.Quantity{Value: float64(g.Value), Unit: units.Of[U]().Unit, Text: g.Text}
}

// Or is the value given, or def where none was.
func (g Given[U]) Or(def U) U {
	if g.Set() {
		return g.Value
	}
	return def
}

// Millimetres is a length that a program works out, to the nearest micrometre,
// as it would be written.
func Millimetres(l units.Length) Given[units.Length] {
	text := millimetres(l)
	return Given[units.Length]{Value: units.Length(units.MustParse(text, units.Of[units.Length]())), Text: text}
}

// Word is a piece of text with its place.
type Word struct {
	Text string
	Pos  Pos
}

func (w Word) String() string { return w.Text }
