package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Style is how quantities are written in one unit.
type Style struct {
	Unit   string  // with the space before it
	scale  float64 // written = SI value × scale
	digits int     // significant ones
	most   int     // decimals at the most
}

// The styles of what has no unit.
var (
	Counts  = Style{scale: 1}
	Minutes = styleOf("min", " min", 4, 0) // of work, for which seconds are too fine
)

// Multiples are written before that word.
func Multiples(word string) Style { return Style{" " + word, 1, 3, 2} }

// Prices are written in that currency, which may be "".
func Prices(currency string) Style { return Style{strings.TrimRight(" "+currency, " "), 1, 9, 2} }

// styles by SI unit, metric and imperial. A load is written as what is hung to
// make it.
var styles = map[string][2]Style{
	"kg":    {styleOf("g", " g", 4, 1), styleOf("oz", " oz", 3, 3)},
	"m":     {styleOf("mm", " mm", 4, 0), styleOf("in", " in", 3, 1)},
	"N":     {hung("g", " g", 3, 1), hung("lb", " lb", 3, 2)},
	"N/m":   {{" N/m", 1, 3, 2}, styleOf("oz/in", " oz/in", 3, 3)},
	"Hz":    {{" Hz", 1, 3, 2}, {" Hz", 1, 3, 2}},
	"s":     {{" s", 1, 2, 2}, {" s", 1, 2, 2}},
	"m/s":   {{" m/s", 1, 3, 1}, styleOf("ft", " ft/s", 3, 1)},
	"N·m":   {{" N·m", 1, 3, 2}, {" lb·ft", 1 / (Size("lbf") * Size("ft")), 3, 2}},
	"rad":   {styleOf("deg", "°", 3, 2), styleOf("deg", "°", 3, 2)},
	"kg·m²": {{" kg·m²", 1, 3, 4}, styleOf("lbft2", " lb·ft²", 3, 3)},
	"1":     {styleOf("%", " %", 3, 2), styleOf("%", " %", 3, 2)},
}

// Styles are how quantities of an SI unit are written, metric and imperial;
// those of "1" are shares.
func Styles(unit string) (metric, imperial Style) { return styles[unit][0], styles[unit][1] }

func styleOf(symbol, unit string, digits, most int) Style {
	return Style{unit, 1 / Size(symbol), digits, most}
}

func hung(symbol, unit string, digits, most int) Style {
	weight, _ := product(unitsBySymbol[symbol].size, gravity).Float64()
	return Style{unit, 1 / weight, digits, most}
}

// Fitting is the style for values that are too large or too small for the unit:
// kilograms from two of them on, and, unless pounds are kept, loads below a pound
// in ounces.
func (s Style) Fitting(value float64, keepPounds bool) Style {
	switch shown := math.Abs(value * s.scale); {
	case s.Unit == " g" && shown >= 2000:
		return Style{" kg", s.scale / 1000, 3, 2}
	case s.Unit == " lb" && shown < 1 && !keepPounds:
		return Style{" oz", s.scale * 16, 3, 2}
	}
	return s
}

// Decimals is how many decimals show the style's significant digits of a value,
// and no more than its deviation supports, where that is known.
func (s Style) Decimals(value, deviation float64) int {
	decimals := 0
	if v := math.Abs(value * s.scale); v != 0 {
		decimals = min(s.most, max(0, s.digits-1-int(math.Floor(math.Log10(v)))))
	}
	if deviation > 0 {
		decimals = min(decimals, s.DeviationDecimals(deviation))
	}
	return decimals
}

// DeviationDecimals is how many decimals a standard deviation is written to: to
// one digit, or to two where the first would be a 1 and rounding change it by up
// to a third. More than two are never of use (JCGM 100:2008, 7.2.6).
func (s Style) DeviationDecimals(deviation float64) int {
	v := math.Abs(deviation * s.scale)
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	size := math.Floor(math.Log10(v))
	if v/math.Pow(10, size) < 1.95 {
		return 1 - int(size)
	}
	return -int(size)
}

// Number writes a value without its unit to that many decimals; to tens for −1.
func (s Style) Number(value float64, decimals int) string { return rounded(value*s.scale, decimals) }

// Signed writes a value with its sign, the minus as a minus; what rounds to
// nothing has none.
func (s Style) Signed(value float64, decimals int) string {
	text := s.Number(math.Abs(value), decimals)
	switch {
	case !s.Shows(value, decimals):
		return text
	case value < 0:
		return "−" + text
	}
	return "+" + text
}

// Shows reports whether a value written to that many decimals is more than
// nothing.
func (s Style) Shows(value float64, decimals int) bool {
	return math.Abs(value*s.scale) > math.Pow10(-decimals)/2
}

// Rounded is the value that is written to that many decimals, in the style's
// unit.
func (s Style) Rounded(value float64, decimals int) float64 {
	unit := math.Pow10(-decimals)
	return math.RoundToEven(value*s.scale/unit) * unit
}

// rounded writes a number to that many decimals; to tens for −1.
func rounded(v float64, decimals int) string {
	if decimals < 0 {
		unit := math.Pow10(-decimals)
		return fmt.Sprintf("%.0f", math.Round(v/unit)*unit)
	}
	return fmt.Sprintf("%.*f", decimals, v)
}

// Trimmed prints v with at most so many decimals and no zeros at the end.
func Trimmed(v float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// Sixteenths writes a length in metres in inches, to the sixteenth that a tape shows:
// "6 5/16".
func Sixteenths(m float64) string {
	n := int(math.Round(m / Size("in") * 16))
	whole, part, of := n/16, n%16, 16
	for part > 0 && part%2 == 0 {
		part, of = part/2, of/2
	}
	switch {
	case part == 0:
		return fmt.Sprint(whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d", part, of)
	}
	return fmt.Sprintf("%d %d/%d", whole, part, of)
}
