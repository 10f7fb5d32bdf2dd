package evaluate

import "math"

// WithTolerance writes a value with its standard deviation, both to the digits
// that this supports: "164 g ± 3", "1900 g ± 200 (4.3 lb ± 0.4)". A deviation
// that is 0 or not known leaves the value alone.
func (d Display) WithTolerance(key, unit string, value, deviation float64) string {
	if !(deviation > 0) {
		return d.Value(key, unit, value)
	}
	return d.write(key, unit, value, func(s style) string {
		decimals := s.supported(value, deviation)
		return rounded(value*s.scale, decimals) + s.unit + plusMinus(deviation*s.scale, decimals)
	})
}

// ChangeWithTolerance writes a change as Change does, with its own standard
// deviation.
func (d Display) ChangeWithTolerance(key, unit string, change, value, deviation float64) string {
	if !(deviation > 0) {
		return d.Change(key, unit, change, value)
	}
	return d.write(key, unit, value, func(s style) string {
		decimals := s.supported(value, deviation)
		return signed(change*s.scale, decimals) + s.unit + plusMinus(deviation*s.scale, decimals)
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

// supported is how many decimals of a value its deviation supports, and no more
// than the style shows.
func (s style) supported(value, deviation float64) int {
	return min(s.decimals(value*s.scale), deviationDecimals(deviation*s.scale))
}

// plusMinus writes a deviation beside a value of that many decimals; one that
// is smaller than these show, as one of the last digit.
func plusMinus(deviation float64, decimals int) string {
	return " ± " + rounded(max(deviation, math.Pow10(-decimals)), decimals)
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
