package units

import (
	"math"
	"math/big"
	"regexp"
	"strings"
)

// Between writes a value between those of two texts as they are written: in the
// unit of b, if it has one, and to the digits of the two. Feet and inches, and
// fractions of an inch, become sixteenths of an inch; all else is written in the usual
// unit to a tenth. It gives the value of what it wrote, too.
func Between[U ~float64](a, b string, value U) (text string, written U) {
	d := Of[U]()
	like := d.writingOf(b)
	if of := d.writingOf(a); of.unit == like.unit {
		like.decimals = max(like.decimals, of.decimals)
	}
	text = like.write(float64(value))
	return text + like.origin, U(MustParse(text, d))
}

// writing is how a quantity is written: in one unit, to so many decimals, with
// the words behind it that say from where.
type writing struct {
	unit     *unit
	size     float64 // of the unit, in SI
	symbol   string  // with the space before it
	decimals int
	tape     bool // to the sixteenth of an inch instead
	origin   string
}

var inOneUnit = regexp.MustCompile(`^\d+(?:\.(\d+))?( ?[^\d\s./]\S*)( from .*)?$`)

var inInches = regexp.MustCompile(`(?:in|inch|inches|ft|foot|feet|["″'′])( from .*)?$`)

// writingOf is how a text is written, or the usual way.
func (d *Dimension) writingOf(text string) writing {
	w := writing{symbol: " " + d.usual, decimals: 1}
	m := inOneUnit.FindStringSubmatch(text)
	if m != nil {
		w.unit, _ = d.unitFor(text, strings.TrimSpace(m[2]))
	}
	switch {
	case w.unit != nil:
		w.symbol, w.decimals, w.origin = m[2], len(m[1]), m[3]
	case d == length && inInches.MatchString(text):
		w.unit, w.symbol, w.tape, w.origin = unitsBySymbol["in"], " in", true, inInches.FindStringSubmatch(text)[1]
	case d.usual == "":
		w.symbol, w.unit = "", plain[d.Bare]
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
	if w.tape {
		return Sixteenths(value) + w.symbol
	}
	scale := math.Pow10(w.decimals)
	return Trimmed(math.Round(value/w.size*scale)/scale, w.decimals) + w.symbol
}
