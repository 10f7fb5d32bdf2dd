package units

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"

	"rodlore/models/spelling"
)

// maxQuantity is the longest text read as a quantity, in bytes. The longest
// sensible one, "12 ft 6 15/16 in from butt", is well below.
const maxQuantity = 60

// Parse reads text such as "12 ft 6 in", "1 3/4 oz" or "0.65 g" as a
// quantity of dimension d and gives it in SI units. It calculates with exact
// fractions, so that every spelling of a quantity gives the same float64. The
// error quotes text and says what was expected.
func Parse(text string, d *Dimension) (float64, error) {
	text = strings.TrimSpace(text)
	if err := refuse(text, d); err != nil {
		return 0, err
	}
	rest, negative := cutMinus(text)
	sum := new(big.Rat)
	var last *term
	for more := true; more; more = rest != "" {
		t, after, err := scanTerm(text, rest, d, last)
		if err != nil {
			return 0, err
		}
		sum.Add(sum, t.number.Mul(t.number, t.unit.size))
		last, rest = t, after
	}
	if d == force && last.unit.dim == mass {
		sum.Mul(sum, gravity)
	}
	value, _ := sum.Float64()
	if negative && value != 0 {
		value = -value
	}
	return value, nil
}

// term is one number with its unit.
type term struct {
	number *big.Rat
	whole  bool
	unit   *unit
}

// follows checks that t may stand after prev, as the inches after the feet, or
// first where prev is nil.
func (t *term) follows(prev *term, text string) error {
	switch {
	case prev == nil:
		return nil
	case t.unit.dim != prev.unit.dim:
		return fmt.Errorf("%q mixes %s and %s", text, prev.unit.dim.name, t.unit.dim.name)
	case t.unit.size.Cmp(prev.unit.size) >= 0:
		return fmt.Errorf("%q has its units in the wrong order; the larger comes first, as in 12 ft 6 in", text)
	case !prev.whole:
		return fmt.Errorf("%q has a fraction before the last unit; only the last number may have one", text)
	}
	return nil
}

// refuse catches what looks like a quantity to a person but is none here.
func refuse(text string, d *Dimension) error {
	switch {
	case text == "":
		return fmt.Errorf("is empty; expected %s", d.Expected())
	case len(text) > maxQuantity:
		return fmt.Errorf("%q is too long; expected %s", spelling.Shorten(text), d.Expected())
	case strings.ContainsFunc(text, unicode.IsControl):
		return fmt.Errorf("%q has a tab or line break in it; expected %s", text, d.Expected())
	case notFinite(text):
		return fmt.Errorf("%q is not a finite number; expected %s", text, d.Expected())
	}
	if at := strings.IndexByte(text, ','); at > 0 && isDigit(text[at-1]) {
		pointed := text[:at] + "." + text[at+1:]
		if thousands(text[at+1:]) {
			return fmt.Errorf("%q has a comma; write %s with a point or %s without", text, pointed, text[:at]+text[at+1:])
		}
		return fmt.Errorf("%q has a comma; write %s with a point", text, pointed)
	}
	return nil
}

// thousands reports whether the text after a comma begins with exactly three
// digits, so that the comma may have been meant to part the thousands.
func thousands(after string) bool { return len(digits(after)) == 3 }

func (d *Dimension) Expected() string { return d.name + " such as " + d.Example }

// notFinite reports whether text begins as one of the spellings of what is no
// number or is infinite.
func notFinite(text string) bool {
	word := strings.ToLower(strings.TrimLeft(text, "+-−."))
	word, _, _ = strings.Cut(word, " ")
	switch word {
	case "nan", "inf", "infinity", "∞":
		return true
	}
	return false
}

func cutMinus(text string) (rest string, negative bool) {
	for _, minus := range []string{"-", "−"} {
		if rest, ok := strings.CutPrefix(text, minus); ok {
			return strings.TrimLeft(rest, " "), true
		}
	}
	return text, false
}

// scanTerm reads the number and the unit that rest begins with. text is the
// whole quantity, for messages; prev is the term before, nil for the first.
func scanTerm(text, rest string, d *Dimension, prev *term) (t *term, after string, err error) {
	number, whole, after, err := scanNumber(rest)
	if errors.Is(err, errNoNumber) {
		return nil, "", fmt.Errorf("%q %w; expected %s", text, err, d.Expected())
	}
	if err != nil {
		return nil, "", fmt.Errorf("%q %w", text, err)
	}
	symbol, after := scanSymbol(after)
	if symbol == "" {
		symbol = d.Bare
	}
	switch {
	case symbol == "" && d == share:
		// 0.03 may be meant as 3 % or as 0.03 %, so neither is proposed.
		return nil, "", fmt.Errorf("%q has no unit; expected %s", text, d.Expected())
	case symbol == "" && prev != nil:
		return nil, "", fmt.Errorf("%q has no unit at its end; write one after the last number too", text)
	case symbol == "":
		return nil, "", fmt.Errorf("%q has no unit; write it with one, such as %s %s", text, text, d.usual)
	}
	u, err := d.unitFor(text, symbol)
	if err != nil {
		return nil, "", err
	}
	t = &term{number, whole, u}
	return t, after, t.follows(prev, text)
}

// plain is the unit of dimensions that are written without one.
var plain = map[string]*unit{
	"1":        {dim: Ratio, size: exact("1")},
	"currency": {dim: money, size: exact("1")},
}

// unitFor finds the unit that symbol names and checks that it measures d.
func (d *Dimension) unitFor(text, symbol string) (*unit, error) {
	if symbol == d.Bare && plain[symbol] != nil || d == money && isCurrency(symbol) {
		return plain[d.Bare], nil
	}
	u := unitsBySymbol[canonical(symbol)]
	switch {
	case u == nil:
		return nil, fmt.Errorf("%q has an unknown unit %q%s", text, symbol, d.suggest(symbol))
	case u.dim == d, d == force && u.dim == mass, d == Ratio && u.dim == share:
		return u, nil
	}
	return nil, fmt.Errorf("%q is %s; expected %s", text, u.dim.name, d.Expected())
}

// isCurrency reports whether symbol has the form of a currency code of
// ISO 4217, three capitals.
func isCurrency(symbol string) bool {
	return len(symbol) == 3 && strings.Trim(symbol, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
}

// canonicalUnits takes out what may be left out of a unit.
var canonicalUnits = strings.NewReplacer("²", "2", "³", "3", "^", "", "·", "", "⋅", "", "*", "", ".", "")

// canonical writes powers and products the one way that the table has them:
// N·m², N.m2 and N*m^2 are Nm2.
func canonical(symbol string) string {
	if unitsBySymbol[symbol] != nil {
		return symbol
	}
	return canonicalUnits.Replace(symbol)
}

// suggest names the unit of d that is nearest to symbol, or else an example.
func (d *Dimension) suggest(symbol string) string {
	var known []string
	for _, u := range unitList {
		if u.dim == d || d == force && u.dim == mass {
			known = append(known, u.symbols[0])
		}
	}
	if s := spelling.DidYouMean(symbol, known); s != "" {
		return s
	}
	return "; expected " + d.Expected()
}

// scanSymbol reads the unit that text begins with, and the space around it.
func scanSymbol(text string) (symbol, after string) {
	text = strings.TrimLeft(text, " ")
	r, size := utf8.DecodeRuneInString(text)
	switch {
	case size == 0:
		return "", ""
	case strings.ContainsRune(`'"′″°%`, r):
		return text[:size], strings.TrimLeft(text[size:], " ")
	case strings.HasPrefix(text, "per minute"):
		return "per minute", strings.TrimLeft(text[len("per minute"):], " ")
	}
	end := strings.IndexFunc(text, unicode.IsSpace)
	if end < 0 {
		end = len(text)
	}
	symbol = text[:end]
	// The 6 in "9ft6in" begins the next number; the 3 in "kg/m3" does not.
	if at := strings.IndexAny(symbol, "0123456789"); at > 0 && unitsBySymbol[symbol[:at]] != nil && unitsBySymbol[canonical(symbol)] == nil {
		end = at
	}
	return text[:end], strings.TrimLeft(text[end:], " ")
}
