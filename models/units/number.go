package units

import (
	"errors"
	"math/big"
	"strings"
	"unicode/utf8"
)

// vulgar holds the fractions that have a character of their own.
var vulgar = map[rune]*big.Rat{
	'¼': big.NewRat(1, 4), '½': big.NewRat(1, 2), '¾': big.NewRat(3, 4),
	'⅓': big.NewRat(1, 3), '⅔': big.NewRat(2, 3),
	'⅛': big.NewRat(1, 8), '⅜': big.NewRat(3, 8), '⅝': big.NewRat(5, 8), '⅞': big.NewRat(7, 8),
}

var (
	errNoNumber = errors.New("does not begin with a number")
	errExponent = errors.New("has an exponent; write the number out")
	errZero     = errors.New("divides by zero")
)

// scanNumber reads the number that text begins with: 12, 0.65, 3/64, 1 3/4,
// 1-3/4, 1¾ or ¾. whole reports that it has no fraction.
func scanNumber(text string) (n *big.Rat, whole bool, after string, err error) {
	lead := digits(text)
	after = text[len(lead):]
	switch {
	case strings.HasPrefix(after, ".") && digits(after[1:]) != "":
		frac := digits(after[1:])
		n, _ = new(big.Rat).SetString(lead + "." + frac)
		after = after[1+len(frac):]
	case lead != "" && strings.HasPrefix(after, "/"):
		n, after, err = scanFraction(text)
	case lead == "":
		n, after = scanVulgar(text)
	default:
		whole = true
		n, _ = new(big.Rat).SetString(lead)
	}
	if err == nil && n == nil {
		err = errNoNumber
	}
	if err == nil && hasExponent(after) {
		err = errExponent
	}
	if err != nil || !whole {
		return n, whole, after, err
	}
	return scanMixed(n, after)
}

// scanMixed adds the fraction that may follow a whole number.
func scanMixed(n *big.Rat, after string) (sum *big.Rat, whole bool, rest string, err error) {
	part := strings.TrimLeft(after, " ")
	if after == part { // 48-1/2 is how many write it
		part = strings.TrimPrefix(after, "-")
	}
	if f, rest := scanVulgar(part); f != nil {
		return f.Add(f, n), false, rest, nil
	}
	if part == after || !strings.HasPrefix(part[len(digits(part)):], "/") || digits(part) == "" {
		return n, true, after, nil
	}
	f, rest, err := scanFraction(part)
	if err != nil {
		return nil, false, rest, err
	}
	return f.Add(f, n), false, rest, nil
}

// scanFraction reads 3/64.
func scanFraction(text string) (n *big.Rat, after string, err error) {
	over := digits(text)
	under := digits(text[len(over)+1:])
	after = text[len(over)+1+len(under):]
	switch {
	case under == "":
		return nil, after, errNoNumber
	case strings.Trim(under, "0") == "":
		return nil, after, errZero
	}
	n, _ = new(big.Rat).SetString(over + "/" + under)
	return n, after, nil
}

// scanVulgar reads ¾; n is nil where text does not begin with such a fraction.
func scanVulgar(text string) (n *big.Rat, after string) {
	r, size := utf8.DecodeRuneInString(text)
	if f := vulgar[r]; f != nil {
		return new(big.Rat).Set(f), text[size:]
	}
	return nil, text
}

// hasExponent reports whether what follows a number is an exponent, 1e3.
func hasExponent(after string) bool {
	if len(after) < 2 || after[0] != 'e' && after[0] != 'E' {
		return false
	}
	return digits(strings.TrimLeft(after[1:], "+-")) != ""
}

// digits is the run of decimal digits that s begins with.
func digits(s string) string {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return s[:n]
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }
