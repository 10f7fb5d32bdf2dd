package evaluate

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"strings"

	"rodlore/evaluate/beam"
	"rodlore/models"
	"rodlore/models/units"
)

// Display is how figures are written for people.
type Display struct {
	Units    string // metric, imperial or both, as range.yaml says
	Currency string
	Comma    bool   // decimals stand behind a comma
	Times    string // the word behind a multiple; "" is times
}

// DisplayOf is the display that a range asks for.
func DisplayOf(set *models.Settings) Display {
	return Display{Units: set.Units, Currency: set.Currency.Text}
}

// Single is the display in the one system of units that suits a figure best. The
// trade names a test curve in pounds, whatever else it measures in.
func (d Display) Single(key string) Display {
	switch {
	case bothAlways[key]:
		d.Units = "imperial"
	case metricAlways[key]:
		d.Units = "metric"
	case d.Units == "both":
		d.Units = "metric"
	}
	return d
}

// style is how one kind of figure is written in one system of units.
type style struct {
	scale  float64 // shown = SI value × scale
	unit   string  // with the space before it
	digits int     // significant ones
	most   int     // decimals at the most
}

// styles by SI unit, metric and imperial. A load is written as what is hung to
// make it.
var styles = map[string][2]style{
	"kg":    {per("g", " g", 4, 1), per("oz", " oz", 3, 3)},
	"m":     {per("mm", " mm", 4, 0), per("in", " in", 3, 1)},
	"N":     {weightOf("g", " g", 3, 1), weightOf("lb", " lb", 3, 2)},
	"N/m":   {{1, " N/m", 3, 2}, per("oz/in", " oz/in", 3, 3)},
	"Hz":    {{1, " Hz", 3, 2}, {1, " Hz", 3, 2}},
	"s":     {{1, " s", 2, 2}, {1, " s", 2, 2}},
	"m/s":   {{1, " m/s", 3, 1}, per("ft", " ft/s", 3, 1)},
	"N·m":   {{1, " N·m", 3, 2}, {1 / (units.Size("lbf") * units.Size("ft")), " lb·ft", 3, 2}},
	"rad":   {per("deg", "°", 3, 2), per("deg", "°", 3, 2)},
	"kg·m²": {{1, " kg·m²", 3, 4}, per("lbft2", " lb·ft²", 3, 3)},
	"1":     {per("%", " %", 3, 2), per("%", " %", 3, 2)},
}

func per(symbol, unit string, digits, most int) style {
	return style{1 / units.Size(symbol), unit, digits, most}
}

func weightOf(symbol, unit string, digits, most int) style {
	return style{1 / (units.Size(symbol) * beam.Gravity), unit, digits, most}
}

// counts are figures without a unit that are not shares.
var counts = map[string]bool{"rings": true, "butt-rings": true}

// multiples are figures without a unit that are neither.
var multiples = map[string]bool{"ring-turn-spread": true}

// work are times that a person works, for which seconds are too fine.
var work = map[string]bool{"bench-time": true}

// bothAlways are figures that the trade names in pounds whatever else it
// measures in.
var bothAlways = map[string]bool{"test-curve": true}

// metricAlways are figures that the trade names in millimetres whatever else it
// measures in (common practice, no source).
var metricAlways = map[string]bool{"butt-ring-size": true}

// stylesOf gives the styles of a figure, the second one for the brackets.
func (d Display) stylesOf(key, unit string) []style {
	switch {
	case counts[key]:
		return []style{{scale: 1}}
	case multiples[key]:
		return []style{{1, " " + cmp.Or(d.Times, "times"), 3, 2}}
	case work[key]:
		return []style{per("min", " min", 4, 0)}
	case unit == "currency":
		return []style{{1, strings.TrimRight(" "+d.Currency, " "), 9, 2}}
	}
	pair := styles[unit]
	switch {
	case pair[0] == pair[1], metricAlways[key]:
		return pair[:1]
	case d.Units == "both", bothAlways[key] && d.Units != "imperial":
		return pair[:]
	case d.Units == "imperial":
		return pair[1:]
	}
	return pair[:1]
}

// Value writes the value of a figure with its unit: "182.4 g", or
// "735 g (1.62 lb)" where two systems are wanted.
func (d Display) Value(key, unit string, value float64) string {
	return d.write(key, unit, value, func(s style) string {
		return rounded(value*s.scale, s.decimals(value*s.scale)) + s.unit
	})
}

// Change writes a change of a figure with its sign, to the decimals that the
// value itself is shown with.
func (d Display) Change(key, unit string, change, value float64) string {
	return d.write(key, unit, value, func(s style) string {
		return signed(change*s.scale, s.decimals(value*s.scale)) + s.unit
	})
}

// Shows reports whether the digits of a written change show it.
func Shows(change string) bool { return strings.ContainsAny(change, "123456789") }

// write writes something about a figure of that value in every system of units
// that is wanted.
func (d Display) write(key, unit string, value float64, one func(style) string) string {
	var parts []string
	for _, s := range d.stylesOf(key, unit) {
		text := one(s.fitting(key, value))
		if d.Comma {
			text = decimalPoint.ReplaceAllString(text, "$1,$2")
		}
		parts = append(parts, text)
	}
	if len(parts) == 1 {
		return parts[0]
	}
	return fmt.Sprintf("%s (%s)", parts[0], parts[1])
}

var decimalPoint = regexp.MustCompile(`(\d)\.(\d)`)

// Written is a text as a spec has it, with the decimals of its measures as figures
// have them. Numbers without a unit may be names of parts and stay.
func (d Display) Written(text string) string {
	if !d.Comma {
		return text
	}
	return measured.ReplaceAllString(text, "$1,$2")
}

var measured = regexp.MustCompile(`(\d)\.(\d+ (?:mm|cm|m|g|kg|in|ft|oz|lb)\b)`)

// fitting is the style for values that are too large or too small for the unit:
// kilograms from two of them on, and loads below a pound in ounces, but for
// those that the trade names in pounds.
func (s style) fitting(key string, v float64) style {
	switch shown := math.Abs(v * s.scale); {
	case s.unit == " g" && shown >= 2000:
		return style{s.scale / 1000, " kg", 3, 2}
	case s.unit == " lb" && shown < 1 && !bothAlways[key]:
		return style{s.scale * 16, " oz", 3, 2}
	}
	return s
}

// decimals is how many decimals show the style's significant digits of v.
func (s style) decimals(v float64) int {
	if v == 0 {
		return 0
	}
	return min(s.most, max(0, s.digits-1-int(math.Floor(math.Log10(math.Abs(v))))))
}

// rounded writes a number to that many decimals; to tens for −1.
func rounded(v float64, decimals int) string {
	if decimals < 0 {
		unit := math.Pow10(-decimals)
		return fmt.Sprintf("%.0f", math.Round(v/unit)*unit)
	}
	return fmt.Sprintf("%.*f", decimals, v)
}

// signed writes a number with its sign, the minus as a minus.
func signed(v float64, decimals int) string {
	text := strings.Replace(rounded(v, decimals), "-", "−", 1)
	if v >= 0 {
		text = "+" + text
	}
	return text
}

// Short is what a figure is called in a table.
func Short(key string) string {
	if n, ok := nameOf(key); ok {
		return n.Short
	}
	return key
}

// Meaning is the sentence around the value of a figure, which stands where %s is.
func Meaning(key string) string {
	n, _ := nameOf(key)
	return n.Text
}

func nameOf(key string) (name, bool) {
	for _, n := range names {
		if n.Key == key {
			return n, true
		}
	}
	return name{}, false
}
