package control

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// The range of two values from a normal distribution of deviation 1: its mean
// d2, and D4, which is 1 + 3·d3/d2 with its standard deviation d3. To the digits
// of NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.
const (
	D2 = 1.128
	D4 = 3.267
)

// run is how many values in a row on one side of the mean are a signal: eight,
// the fourth of the Western Electric rules (NIST/SEMATECH e-Handbook, 6.3.2).
const run = 8

// Rule is what a signal goes by.
type Rule string

const (
	Beyond Rule = "beyond" // a value beyond the limits
	Run    Rule = "run"    // eight values or more in a row on one side of the mean
	Jump   Rule = "jump"   // from one value to the next by more than the limit of ranges
)

// Signal is a stretch of values that chance alone would hardly make.
type Signal struct {
	Rule     Rule
	From, To int // the first and the last value of it, from 0
	// Above says that the values are above the mean or, of a jump, that the
	// second is the larger.
	Above bool
}

// Chart is a control chart of individual values in the order of time, all in the
// unit of the values.
type Chart struct {
	Values       []float64
	Mean         float64
	Deviation    float64 // standard deviation by the ranges, mean range / d2
	Lower, Upper float64 // mean ∓ 3 deviations
	Ranges       []float64
	MeanRange    float64
	RangeLimit   float64  // D4 mean ranges
	Signals      []Signal // by their first value
}

// Least is how many values a chart takes: two ranges. Limits of fewer than
// Enough are rough (common practice, no source).
const (
	Least  = 3
	Enough = 20
)

// Individuals makes the chart of values (NIST/SEMATECH e-Handbook, 6.3.2.2). An
// error says that they are too few.
func Individuals(values []float64) (*Chart, error) {
	if len(values) < Least {
		return nil, fmt.Errorf("a control chart takes %d values at least, not %d", Least, len(values))
	}
	c := &Chart{Values: values, Mean: stat.Mean(values, nil)}
	for i, v := range values[1:] {
		c.Ranges = append(c.Ranges, math.Abs(v-values[i]))
	}
	c.MeanRange = stat.Mean(c.Ranges, nil)
	c.Deviation = c.MeanRange / D2
	c.Lower, c.Upper = c.Mean-3*c.Deviation, c.Mean+3*c.Deviation
	c.RangeLimit = D4 * c.MeanRange
	c.signal()
	return c, nil
}

// signal finds the signals.
func (c *Chart) signal() {
	for i, r := range c.Ranges {
		if r > c.RangeLimit {
			c.Signals = append(c.Signals, Signal{Jump, i, i + 1, c.Values[i+1] > c.Values[i]})
		}
	}
	for i, v := range c.Values {
		if v > c.Upper || v < c.Lower {
			c.Signals = append(c.Signals, Signal{Beyond, i, i, v > c.Mean})
		}
	}
	for from, to := 0, 0; from < len(c.Values); from = to {
		on := cmp.Compare(c.Values[from], c.Mean) // one on the mean is on neither side
		for to = from + 1; to < len(c.Values) && cmp.Compare(c.Values[to], c.Mean) == on; {
			to++
		}
		if to-from >= run && on != 0 {
			c.Signals = append(c.Signals, Signal{Run, from, to - 1, on > 0})
		}
	}
	slices.SortStableFunc(c.Signals, func(a, b Signal) int { return a.From - b.From })
}
