package evaluate

import "math"

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

// Supported writes a value alone, to the digits that its standard deviation
// supports.
func (d Display) Supported(key, unit string, value, deviation float64) string {
	return d.supported(key, unit, value, value, deviation, rounded, func(float64, int) string { return "" })
}

// supported writes a number of a figure of that value to as many digits as its
// deviation supports, and no more than the style shows. The deviation is said
// once, where two systems of units are wanted.
func (d Display) supported(
	key, unit string, shown, value, deviation float64, number func(float64, int) string, said func(float64, int) string,
) string {
	return d.write(key, unit, value, func(s style) string {
		decimals := s.decimals(value * s.scale)
		if !(deviation > 0) {
			return number(shown*s.scale, decimals) + s.unit
		}
		decimals = min(decimals, deviationDecimals(deviation*s.scale))
		text := number(shown*s.scale, decimals) + s.unit + said(deviation*s.scale, decimals)
		said = func(float64, int) string { return "" }
		return text
	})
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
