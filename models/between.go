package models

import (
	"math"
	"math/big"
	"regexp"
	"strings"
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
	d := dimensionOf[U]()
	value := float64(a.Value) + way*float64(b.Value-a.Value)
	like := d.writingOf(b.Text)
	if of := d.writingOf(a.Text); of.unit == like.unit {
		like.decimals = max(like.decimals, of.decimals)
	}
	text := like.write(value)
	return Given[U]{Value: U(mustParse(text, d)), Text: text + like.origin, Pos: b.Pos}
}

// writing is how a quantity is written: in one unit, to so many decimals, with
// the words behind it that say from where.
type writing struct {
	unit     *unit
	size     float64 // of the unit, in SI
	symbol   string  // with the space before it
	decimals int
	origin   string
}

var inOneUnit = regexp.MustCompile(`^\d+(?:\.(\d+))?( ?[^\d\s./]\S*)( from .*)?$`)

// writingOf is how a text is written, or the usual way.
func (d *dimension) writingOf(text string) writing {
	w := writing{symbol: " " + d.usual, decimals: 1}
	m := inOneUnit.FindStringSubmatch(text)
	if m != nil {
		w.unit, _ = d.unitFor(text, strings.TrimSpace(m[2]))
	}
	switch {
	case w.unit != nil:
		w.symbol, w.decimals, w.origin = m[2], len(m[1]), m[3]
	case d.usual == "":
		w.symbol, w.unit = "", plain[d.bare]
	default:
		w.unit = unitsBySymbol[canonical(d.usual)]
	}
	size := new(big.Rat).Set(w.unit.size)
	if d == force && w.unit.dim == mass {
		size.Mul(size, gravity)
	}
	w.size, _ = size.Float64()
	return w
}

// write writes a value given in SI units.
func (w writing) write(value float64) string {
	scale := math.Pow10(w.decimals)
	return trimmed(math.Round(value/w.size*scale)/scale, w.decimals) + w.symbol
}
