package evaluate

import "math"

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

// at is the number with the inputs off by x deviations.
func (r response) at(x []float64) float64 {
	sum := 0.0
	for i, d := range r.first {
		sum += x[i] * (d + x[i]*r.second[i]/2)
	}
	if r.logarithmic {
		return r.value * math.Exp(sum)
	}
	return r.value + sum
}

// addGradient adds weight times the derivatives by the inputs at x, where the
// number is v.
func (r response) addGradient(into []float64, weight, v float64, x []float64) {
	if r.logarithmic {
		weight *= v
	}
	for i, d := range r.first {
		into[i] += weight * (d + x[i]*r.second[i])
	}
}
