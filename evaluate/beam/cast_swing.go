package beam

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// gauge reads the swing of a rod about its place of rest, square to the butt.
type gauge struct {
	rest   posture
	across vector
	inside [][points]float64 // μφ ds of the first mode at the Gauss points, over the modal mass
	node   []float64         // mφ at the nodes, over the modal mass

	time  []float64 // s
	first []float64 // of the first mode, m at the tip
	tip   []float64 // m
}

// newGauge weighs a displacement with mass and mode shape, which takes out of
// it the other modes, whose shapes are square to the first in the mass.
func newGauge(r *Rod, mode Mode, rest posture) *gauge {
	g := &gauge{
		rest: rest, across: direction(rest.turn[0]).left(),
		inside: make([][points]float64, len(r.elements)), node: make([]float64, len(r.nodes)),
	}
	for e := range r.elements {
		el := &r.elements[e]
		for j, at := range gaussAt {
			shape := mode.Shape[e] + at*(mode.Shape[e+1]-mode.Shape[e])
			g.inside[e][j] = gaussWeight[j] * el.h * el.mu[j] * shape / mode.ModalMass
		}
	}
	for i, mass := range r.mass {
		g.node[i] = mass * mode.Shape[i] / mode.ModalMass
	}
	return g
}

// read takes the reading of a posture.
func (g *gauge) read(time float64, p *posture) {
	first := 0.0
	for e := range g.inside {
		for j, w := range g.inside[e] {
			first += w * g.across.dot(p.inside[e][j].minus(g.rest.inside[e][j]))
		}
	}
	for i, w := range g.node {
		first += w * g.across.dot(p.node[i].minus(g.rest.node[i]))
	}
	tip := len(p.node) - 1
	g.time = append(g.time, time)
	g.first = append(g.first, first)
	g.tip = append(g.tip, g.across.dot(p.node[tip].minus(g.rest.node[tip])))
}

// swing sums the readings up. The frequency is that between the first and the
// last passage through rest; the decay is that of the straight line through
// the logarithms of the extremes.
func (g *gauge) swing() Swing {
	var s Swing
	for _, w := range g.tip {
		s.Amplitude = max(s.Amplitude, math.Abs(w))
	}
	passages := g.passages()
	last := len(passages) - 1
	s.Frequency = float64(last) / (2 * (passages[last] - passages[0]))
	times, logs := g.extremes()
	_, slope := stat.LinearRegression(times, logs, nil, false)
	s.Damping = -slope / math.Hypot(slope, 2*math.Pi*s.Frequency)
	s.Settle = math.Ln10 / -slope
	return s
}

// passages are the times at which the first mode passes through rest.
func (g *gauge) passages() (times []float64) {
	for i := 1; i < len(g.first); i++ {
		a, b := g.first[i-1], g.first[i]
		if (a < 0) != (b < 0) {
			times = append(times, g.time[i-1]+(g.time[i]-g.time[i-1])*a/(a-b))
		}
	}
	return times
}

// extremes are the times and the logarithms of the magnitudes of the first
// mode's extremes, by the parabola through three readings.
func (g *gauge) extremes() (times, logs []float64) {
	for i := 1; i+1 < len(g.first); i++ {
		a, b, c := math.Abs(g.first[i-1]), math.Abs(g.first[i]), math.Abs(g.first[i+1])
		if b > a && b >= c {
			shift := (a - c) / (2 * (a - 2*b + c))
			times = append(times, g.time[i]+shift*(g.time[i+1]-g.time[i]))
			logs = append(logs, math.Log(b-shift*(a-c)/4))
		}
	}
	return times, logs
}
