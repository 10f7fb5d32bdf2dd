package models

import (
	"math"
	"math/big"
	"regexp"
	"strings"
)

// Between is the quantity that lies a share of the way from a to b, written in
// the unit of b and to the digits of the two. Where b is written in several
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
	like := writingOf(b.Text, d)
	if of := writingOf(a.Text, d); of.unit == like.unit {
		like.decimals = max(like.decimals, of.decimals)
	}
	text := like.write(value, d)
	return Given[U]{Value: U(mustParse(strings.TrimSuffix(text, like.origin), d)), Text: text, Pos: b.Pos}
}

// writing is how a quantity is written: in one unit, to so many decimals, with
// the words behind it that say from where.
type writing struct {
	unit     string
	decimals int
	origin   string
}

var inOneUnit = regexp.MustCompile(`^\d+(?:\.(\d+))?( ?[^\d\s./]\S*)( from .*)?$`)

func writingOf(text string, d *dimension) writing {
	m := inOneUnit.FindStringSubmatch(text)
	if m == nil || unitsBySymbol[strings.TrimSpace(m[2])] == nil {
		return writing{unit: " " + d.usual, decimals: 1}
	}
	return writing{m[2], len(m[1]), m[3]}
}

// write writes a value given in SI units.
func (w writing) write(value float64, d *dimension) string {
	u := unitsBySymbol[strings.TrimSpace(w.unit)]
	size := new(big.Rat).Set(u.size)
	if d == force && u.dim == mass {
		size.Mul(size, gravity)
	}
	one, _ := size.Float64()
	scale := math.Pow10(w.decimals)
	return trimmed(math.Round(value/one*scale)/scale, w.decimals) + w.unit + w.origin
}
