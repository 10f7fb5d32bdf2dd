package evaluate

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// response is how a number follows the inputs of a spec, each in its standard
// deviations, near the spec:
//
//	f(x) = value + ∑ (first·x + second·x²/2)
//
// or, where that bends less, the same of its logarithm.
type response struct {
	value         float64
	first, second []float64 // by input
	logarithmic   bool
}

// probed is a number of the spec, and with one input off by a deviation either
// way.
type probed struct {
	value       float64
	minus, plus []float64 // by input
}

// newResponse takes the scale, plain or logarithmic, on which the number bends
// less.
func newResponse(p probed) response {
	plain := plainResponse(p)
	for i := range p.plus {
		if !(p.value > 0 && p.minus[i] > 0 && p.plus[i] > 0) {
			return plain
		}
	}
	logs := differences(p, math.Log)
	logs.logarithmic = true
	if logs.bend() < plain.bend() {
		return logs
	}
	return plain
}

func plainResponse(p probed) response {
	return differences(p, func(v float64) float64 { return v })
}

// differences takes central differences (Abramowitz and Stegun 1964, 25.3.21
// and 25.3.23). Their step is the deviation itself: a tolerance asks for the
// slope over that span and not in a point.
func differences(p probed, scale func(float64) float64) response {
	n := len(p.plus)
	r := response{value: p.value, first: make([]float64, n), second: make([]float64, n)}
	at := scale(p.value)
	for i := range n {
		minus, plus := scale(p.minus[i]), scale(p.plus[i])
		r.first[i], r.second[i] = (plus-minus)/2, plus-2*at+minus
	}
	return r
}

// bend is how much of the scatter the second differences add to that of the
// first, as a share: √(½∑second²/∑first²).
func (r response) bend() float64 {
	var first, second float64
	for i, d := range r.first {
		first += d * d
		second += r.second[i] * r.second[i] / 2
	}
	if first == 0 {
		return 0
	}
	return math.Sqrt(second / first)
}

// pair gives the number with the inputs off by x deviations and by as many the
// other way. squares are x²/2.
func (r response) pair(x, squares []float64) (there, back float64) {
	odd, even := floats.Dot(r.first, x), floats.Dot(r.second, squares)
	if r.logarithmic {
		return r.value * math.Exp(even+odd), r.value * math.Exp(even-odd)
	}
	return r.value + even + odd, r.value + even - odd
}

// weight is the share of first + x·second in the derivatives by the inputs of a
// figure that has that slope by the number, where the number is v.
func (r response) weight(slope, v float64) float64 {
	if r.logarithmic {
		return slope * v
	}
	return slope
}

// addGradient adds the derivatives by the inputs, scaled.
func (r response) addGradient(into []float64, sum *gradientSum, scale float64) {
	for i, first := range r.first {
		into[i] += scale * (sum.weight*first + sum.weighted[i]*r.second[i])
	}
}
