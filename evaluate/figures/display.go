package figures

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"strings"

	"rodlore/models/units"
)

// Display is how figures are written for people. Its methods take the key of a
// figure, or "" for a quantity that is none, and its SI unit.
type Display struct {
	Units    string // metric, imperial or both, as range.yaml says
	Currency string
	Comma    bool   // decimals stand behind a comma
	Times    string // the word behind a multiple; "" is times

	like float64 // 0, or the value that units suit whatever is written
}

// Alike is the display of values that stand side by side, in the units that suit the
// largest of them.
func (d Display) Alike(values ...float64) Display {
	for _, v := range values {
		d.like = max(d.like, math.Abs(v))
	}
	return d
}

// Single is the display in the one system of units that suits a figure best. The
// trade names a test curve in pounds, whatever else it measures in.
func (d Display) Single(key string) Display {
	switch Of(key).Written {
	case inPounds:
		d.Units = "imperial"
	case inMillimetres:
		d.Units = "metric"
	default:
		if d.Units == "both" {
			d.Units = "metric"
		}
	}
	return d
}

// styles gives the styles of a figure of that value, the second one for the
// brackets.
func (d Display) styles(key, unit string, value float64) []units.Style {
	written := Of(key).Written
	switch {
	case written == count:
		return []units.Style{units.Counts}
	case written == multiple:
		return []units.Style{units.Multiples(cmp.Or(d.Times, "times"))}
	case written == work:
		return []units.Style{units.Minutes}
	case unit == "currency":
		return []units.Style{units.Prices(d.Currency)}
	}
	metric, imperial := units.Styles(unit)
	size := cmp.Or(d.like, value)
	both := []units.Style{metric.Fitting(size, false), imperial.Fitting(size, written == inPounds)}
	switch {
	case metric == imperial, written == inMillimetres:
		return both[:1]
	case d.Units == "both", written == inPounds && d.Units != "imperial":
		return both
	case d.Units == "imperial":
		return both[1:]
	}
	return both[:1]
}

// write writes something about a figure of that value in every system of units
// that is wanted.
func (d Display) write(key, unit string, value float64, one func(units.Style) string) string {
	var parts []string
	for _, s := range d.styles(key, unit, value) {
		parts = append(parts, d.Decimals(one(s)))
	}
	if len(parts) == 1 {
		return parts[0]
	}
	return fmt.Sprintf("%s (%s)", parts[0], parts[1])
}

// Decimals puts decimals behind the mark that is wanted.
func (d Display) Decimals(text string) string {
	if d.Comma {
		return decimalPoint.ReplaceAllString(text, "$1,$2")
	}
	return text
}

var decimalPoint = regexp.MustCompile(`(\d)\.(\d)`)

// Value writes the value of a figure with its unit: "182.4 g", or
// "735 g (1.62 lb)" where two systems are wanted.
func (d Display) Value(key, unit string, value float64) string {
	return d.Supported(key, unit, value, 0)
}

// Thickness writes a diameter or a wall, m: to a tenth of a millimetre, and below one
// millimetre to a hundredth, or what is near that in inches.
func (d Display) Thickness(m float64) string {
	deviation := 2e-4 // that supports these digits
	if m < 1e-3 {
		deviation = 2e-5
	}
	return d.write("", "m", m, func(s units.Style) string {
		return s.Number(m, s.DeviationDecimals(deviation)) + s.Unit
	})
}

// Supported writes a value to the digits that its standard deviation supports;
// one that is not known leaves all that are usual.
func (d Display) Supported(key, unit string, value, deviation float64) string {
	return d.write(key, unit, value, func(s units.Style) string {
		return s.Number(value, s.Decimals(value, deviation)) + s.Unit
	})
}

// WithTolerance writes a value with its standard deviation, both to the digits
// that this supports: "164 g ± 3", "1900 g ± 200 (4.3 lb)". A deviation that is
// not known, or too small for the digits shown, leaves the value alone. It is said
// once, where two systems of units are wanted.
func (d Display) WithTolerance(key, unit string, value, deviation float64) string {
	return d.withDeviation(key, unit, value, deviation, func(s units.Style, decimals int) string { return s.Number(value, decimals) })
}

// Change writes a change of a figure with its sign, to the decimals that the
// value itself is shown with.
func (d Display) Change(key, unit string, change, value float64) string {
	return d.ChangeWithTolerance(key, unit, change, value, 0)
}

// ChangeWithTolerance writes a change as Change does, with its own standard
// deviation.
func (d Display) ChangeWithTolerance(key, unit string, change, value, deviation float64) string {
	return d.withDeviation(key, unit, value, deviation, func(s units.Style, decimals int) string { return s.Signed(change, decimals) })
}

// Size writes how large a change of a figure is, as Change does without its sign:
// for sentences that say in words which way it went.
func (d Display) Size(key, unit string, change, value float64) string {
	return d.write(key, unit, value, func(s units.Style) string {
		return s.Number(math.Abs(change), s.Decimals(value, 0)) + s.Unit
	})
}

// Bound writes a value that somebody set, in one system of units: to the digits that
// it takes, and to the usual ones where it takes many more, as what was set in other
// units does.
func (d Display) Bound(key, unit string, value float64) string {
	return d.Single(key).write(key, unit, value, func(s units.Style) string {
		const more, same = 2, 1e-9
		decimals := s.Decimals(value, 0)
		if exact := s.Rounded(value, 12); math.Abs(s.Rounded(value, decimals+more)-exact) <= same*math.Abs(exact) {
			decimals += more
		}
		return units.Trimmed(s.Rounded(value, decimals), decimals) + s.Unit
	})
}

// withDeviation puts a deviation behind what is written first of a figure of that
// value, where the decimals that it supports show it.
func (d Display) withDeviation(key, unit string, value, deviation float64, number func(s units.Style, decimals int) string) string {
	said := false
	return d.write(key, unit, value, func(s units.Style) string {
		decimals := s.Decimals(value, deviation)
		text := number(s, decimals) + s.Unit
		if !said && s.Shows(deviation, decimals) {
			text += " ± " + s.Number(deviation, decimals)
		}
		said = true
		return text
	})
}

// Shows reports whether Change writes more than nothing.
func (d Display) Shows(key, unit string, change, value float64) bool {
	for _, s := range d.styles(key, unit, value) {
		if s.Shows(change, s.Decimals(value, 0)) {
			return true
		}
	}
	return false
}

// Same reports whether Value writes two values as one number.
func (d Display) Same(key, unit string, a, b float64) bool {
	of := d.styles(key, unit, b)
	for i, s := range d.styles(key, unit, a) {
		decimals := s.Decimals(a, 0)
		apart := s.Rounded(a, decimals) - of[i].Rounded(b, of[i].Decimals(b, 0))
		if s.Unit != of[i].Unit || math.Abs(apart) > math.Pow10(-decimals)/2 {
			return false
		}
	}
	return true
}

// RoundedApart reports whether a change, as ChangeWithTolerance writes it, is
// another than that between the two values as Supported writes them.
func (d Display) RoundedApart(key, unit string, before, after, deviation float64) bool {
	for _, s := range d.styles(key, unit, after) {
		decimals := s.Decimals(after, deviation)
		apart := s.Rounded(after, decimals) - s.Rounded(before, s.Decimals(before, deviation))
		if math.Abs(apart-s.Rounded(after-before, decimals)) > 0.5001*math.Pow10(-decimals) {
			return true
		}
	}
	return false
}

// Effect writes what something does to a figure of that value, with its sign
// and to as many digits as a deviation has.
func (d Display) Effect(key, unit string, effect, value float64) string {
	return d.write(key, unit, value, func(s units.Style) string {
		return s.Signed(effect, s.DeviationDecimals(effect)) + s.Unit
	})
}

// Deviation writes a standard deviation of a figure of that value by itself.
func (d Display) Deviation(key, unit string, deviation, value float64) string {
	return d.write(key, unit, value, func(s units.Style) string {
		return s.Number(deviation, s.DeviationDecimals(deviation)) + s.Unit
	})
}

// Deviations writes by how many standard deviations something is off.
func Deviations(off float64) string { return units.Counts.Signed(off, 1) }

// Place writes a distance in metres as a tape shows it: to the millimetre, or to
// the sixteenth of an inch where imperial units alone are wanted.
func (d Display) Place(m float64) string {
	number, unit := d.Tape(m)
	return number + " " + unit
}

// Tape is what Place writes, with the unit apart.
func (d Display) Tape(m float64) (number, unit string) {
	if d.Units == "imperial" {
		return units.Sixteenths(m), "in"
	}
	c := d.Column("", "m", m)
	return c.Number(m), c.Unit()
}

// Written is a quantity as somebody wrote it, with the decimals as figures have them,
// and in inches and ounces where imperial units alone are wanted. Words, which may be
// names of parts, stay as they are.
func (d Display) Written(q units.Quantity) string {
	text := q.Text
	if d.Units == "imperial" {
		in, ok := q.Imperial()
		if !ok {
			return d.Value("", q.Unit, q.Value)
		}
		text = in
	}
	if q.Unit == "" {
		return text
	}
	return d.Decimals(text)
}

// Column writes values of one figure for a table whose head has their unit.
type Column struct {
	display Display
	style   units.Style
}

// Column is the column of figures about as large as value, in one system of
// units.
func (d Display) Column(key, unit string, value float64) Column {
	d = d.Single(key)
	return Column{d, d.styles(key, unit, value)[0]}
}

// Unit is the unit of the numbers; "" where they have none.
func (c Column) Unit() string { return strings.TrimSpace(c.style.Unit) }

// Number writes a value without its unit.
func (c Column) Number(value float64) string {
	return c.display.Decimals(c.style.Number(value, c.style.Decimals(value, 0)))
}

// Change writes a change of a figure of that value, with its sign; ok is false
// where it rounds to nothing.
func (c Column) Change(change, value float64) (text string, ok bool) {
	decimals := c.style.Decimals(value, 0)
	return c.display.Decimals(c.style.Signed(change, decimals)), c.style.Shows(change, decimals)
}
