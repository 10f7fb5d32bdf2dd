package evaluate

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// Part is a number that a figure is made of, mostly the figure itself: as the
// spec has it, and how much more it is with one input off by a deviation either
// way.
type Part struct {
	Value       float64
	Minus, Plus []float64 // by input
}

// response is how a part follows the inputs of a spec, each in its standard
// deviations, near the spec:
//
//	f(x) = value + ∑ (first·x + second·x²/2)
//
// or the same of its logarithm.
type response struct {
	value         float64
	first, second []float64 // by input
	logarithmic   bool
}

// responseOf takes central differences (Abramowitz and Stegun 1964, 25.3.21
// and 25.3.23). Their step is the deviation itself: a tolerance asks for the
// slope over that span and not in a point.
func responseOf(p Part, logarithmic bool) response {
	n, scale := len(p.Plus), func(v float64) float64 { return v }
	if logarithmic {
		scale = math.Log
	}
	r := response{p.Value, make([]float64, n), make([]float64, n), logarithmic}
	at := scale(p.Value)
	for i := range n {
		if p.Minus[i] == -p.Plus[i] && (!logarithmic || p.Plus[i] == 0) { // as of all that is in proportion
			r.first[i] = p.Plus[i]
			continue
		}
		minus, plus := scale(p.Value+p.Minus[i]), scale(p.Value+p.Plus[i])
		r.first[i], r.second[i] = (plus-minus)/2, plus-2*at+minus
	}
	return r
}

// responses takes the responses of all parts on one scale, the plain one or the
// logarithmic.
func responses(parts []Part, logarithmic bool) []response {
	list := make([]response, len(parts))
	for j, p := range parts {
		list[j] = responseOf(p, logarithmic)
	}
	return list
}

// clearly is how many times less the parts must bend in logarithms: beyond what was
// read these may leave a valley by far too much.
const clearly = 0.8

// bendsLessInLogarithms reports on which scale the parts bend less. Rods that are
// to be compared are put on one scale together, or what the two scales leave out
// would show as a difference between them.
func bendsLessInLogarithms(parts ...[]Part) bool {
	var plain, logs bend
	for _, list := range parts {
		for _, p := range list {
			for i := range p.Plus {
				if !(p.Value > 0 && p.Value+p.Minus[i] > 0 && p.Value+p.Plus[i] > 0) {
					return false
				}
			}
			plain.add(responseOf(p, false))
			logs.add(responseOf(p, true))
		}
	}
	return logs.share() < clearly*plain.share()
}

// bend is how much of the scatter the second differences add to that of the
// first.
type bend struct{ first, second float64 } // variances

func (b *bend) add(r response) {
	for i, d := range r.first {
		b.first += d * d
		b.second += r.second[i] * r.second[i] / 2
	}
}

// share is √(½∑second²/∑first²): without bound at the bottom of a valley, where
// nothing but second differences is left.
func (b *bend) share() float64 {
	if b.second == 0 {
		return 0
	}
	return math.Sqrt(b.second / b.first)
}

// sampled gives the part at the draws and at their reflections.
func (r response) sampled(d draws) (there, back []float64) {
	there, back = make([]float64, d.pairs), make([]float64, d.pairs)
	for i, x := range d.normal {
		if r.first[i] != 0 {
			floats.AddScaled(there, r.first[i], x)
		}
		if r.second[i] != 0 {
			for k, v := range x {
				back[k] += r.second[i] * (v * v / 2)
			}
		}
	}
	for k, odd := range there {
		even := back[k]
		there[k], back[k] = r.at(even+odd), r.at(even-odd)
	}
	return there, back
}

// at is the part that far off on its scale.
func (r response) at(off float64) float64 {
	if r.logarithmic {
		return r.value * math.Exp(off)
	}
	return r.value + off
}

// weight is the share of first + x·second in the derivatives by the inputs of a
// figure that has that slope by the part, where the part is v.
func (r response) weight(slope, v float64) float64 {
	if r.logarithmic {
		return slope * v
	}
	return slope
}

// addGradient adds the mean of the derivatives by the inputs. At each draw the
// weights are there, at its reflection back; what is there is used up.
func (r response) addGradient(effects, there, back []float64, d draws) {
	all := floats.Sum(there) + floats.Sum(back)
	odd := there
	floats.Sub(odd, back)
	n := 1 / float64(2*d.pairs)
	for i, x := range d.normal {
		effects[i] += n * all * r.first[i]
		if r.second[i] != 0 {
			effects[i] += n * r.second[i] * floats.Dot(odd, x)
		}
	}
}
