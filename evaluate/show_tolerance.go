package evaluate

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// WithTolerance writes a value with its standard deviation, both to the digits
// that this supports: "164 g ± 3", "1900 g ± 200 (4.3 lb)". A deviation that is
// not known, or too small for the digits shown, leaves the value alone.
func (d Display) WithTolerance(key, unit string, value, deviation float64) string {
	return d.supported(key, unit, value, value, deviation, rounded, plusMinus)
}

// ChangeWithTolerance writes a change as Change does, with its own standard
// deviation.
func (d Display) ChangeWithTolerance(key, unit string, change, value, deviation float64) string {
	return d.supported(key, unit, change, value, deviation, signed, plusMinus)
}

// RoundedApart reports whether a change, as ChangeWithTolerance writes it, is
// another than that between the two values as Value writes them.
func (d Display) RoundedApart(key, unit string, old, new, deviation float64) bool {
	for _, s := range d.stylesOf(key, unit) {
		s = s.fitting(key, new)
		before, after, change := old*s.scale, new*s.scale, (new-old)*s.scale
		decimals := s.supported(after, deviation*s.scale)
		shown := asShown(after, s.decimals(after)) - asShown(before, s.decimals(before))
		if off := math.Abs(shown - asShown(change, decimals)); off > 0.5001*math.Pow10(-decimals) {
			return true
		}
	}
	return false
}

// asShown is the number that rounded writes.
func asShown(v float64, decimals int) float64 {
	shown, _ := strconv.ParseFloat(rounded(v, decimals), 64) // a number, or NaN
	return shown
}

// Supported writes a value alone, to the digits that its standard deviation
// supports.
func (d Display) Supported(key, unit string, value, deviation float64) string {
	return d.supported(key, unit, value, value, deviation, rounded, func(float64, int) string { return "" })
}

// supported writes a number of a figure of that value to as many digits as its
// deviation supports, and no more than the style shows. The deviation is said
// once, where two systems of units are wanted.
func (d Display) supported(
	key, unit string, shown, value, deviation float64, write func(float64, int) string, said func(float64, int) string,
) string {
	return d.write(key, unit, value, func(s style) string {
		decimals := s.supported(value*s.scale, deviation*s.scale)
		text := write(shown*s.scale, decimals) + s.unit
		if !(deviation > 0) {
			return text
		}
		text += said(deviation*s.scale, decimals)
		said = func(float64, int) string { return "" }
		return text
	})
}

// supported is how many decimals of v its deviation supports, no more than the
// style shows.
func (s style) supported(v, deviation float64) int {
	if !(deviation > 0) {
		return s.decimals(v)
	}
	return min(s.decimals(v), deviationDecimals(deviation))
}

// Effect writes what something does to a figure of that value, with its sign
// and to as many digits as a deviation has.
func (d Display) Effect(key, unit string, effect, value float64) string {
	return d.write(key, unit, value, func(s style) string {
		return signed(effect*s.scale, deviationDecimals(effect*s.scale)) + s.unit
	})
}

// Deviation writes a standard deviation by itself.
func (d Display) Deviation(unit string, deviation float64) string {
	return d.write("", unit, deviation, func(s style) string {
		return rounded(deviation*s.scale, deviationDecimals(deviation*s.scale)) + s.unit
	})
}

// ShowDeviations writes by how many standard deviations something is off.
func ShowDeviations(off float64) string {
	return strings.Replace(fmt.Sprintf("%+.1f", off), "-", "−", 1)
}

// plusMinus writes a deviation beside a value of that many decimals, where these
// show it.
func plusMinus(deviation float64, decimals int) string {
	if deviation < math.Pow10(-decimals)/2 {
		return ""
	}
	return " ± " + rounded(deviation, decimals)
}

// deviationDecimals is how many decimals a standard deviation is written to: to
// one digit, or to two where the first would be a 1 and rounding change it by up
// to a third. More than two are never of use (JCGM 100:2008, 7.2.6).
func deviationDecimals(deviation float64) int {
	if deviation == 0 || math.IsNaN(deviation) || math.IsInf(deviation, 0) {
		return 0
	}
	size := math.Floor(math.Log10(math.Abs(deviation)))
	first := math.Abs(deviation) / math.Pow(10, size)
	switch {
	case first >= 9.5: // becomes 10
		return -int(size)
	case first < 1.95:
		return 1 - int(size)
	}
	return -int(size)
}
