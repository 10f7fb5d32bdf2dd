package beam

import "math"

// gauge reads the swing of a rod about its place of rest, square to the butt.
type gauge struct {
	rest   posture
	least  float64 // energy at rest, J
	across vector
	inside [][points]float64 // μφ ds of the first mode at the Gauss points, over the modal mass
	node   []float64         // mφ at the nodes, over the modal mass

	time  []float64 // s
	first []float64 // of the first mode, m at the tip
	tip   []float64 // m
	above []float64 // energy over that at rest, J
}

// newGauge weighs a displacement with mass and mode shape, which takes out of
// it the other modes, whose shapes are square to the first in the mass.
func newGauge(rest *motion, mode Mode) *gauge {
	r := rest.rod
	g := &gauge{
		rest: rest.was, least: rest.stored(), across: direction(rest.was.turn[0]).left(),
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

// read takes the reading of a motion.
func (g *gauge) read(time float64, m *motion) {
	p, first := &m.was, 0.0
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
	g.above = append(g.above, m.account.Rod+m.stored()-g.least)
}

// passage is one of the first mode through rest.
type passage struct {
	time float64 // s
	log  float64 // of the energy over that at rest
}

// passagesDecaying are the last passages from which the decay is read, so many
// that the higher modes have gone before.
const passagesDecaying = 7

// swing sums the readings up. The frequency is that between the first passage
// and the last. The decay is half that of the energy, between passages, since a
// large swing trades height with the higher modes but energy only goes.
func (g *gauge) swing() Swing {
	s := Swing{Settle: math.Inf(1)}
	for _, w := range g.tip {
		s.Amplitude = max(s.Amplitude, math.Abs(w))
	}
	all := g.passages()
	n := len(all)
	if n < 2 {
		return s
	}
	first, mid, last := all[0], all[max(0, n-passagesDecaying)], all[n-1]
	s.Frequency = float64(n-1) / (2 * (last.time - first.time))
	if decay := (mid.log - last.log) / (2 * (last.time - mid.time)); decay > 0 {
		s.Settle = math.Ln10 / decay
	}
	return s
}

// passages are found on straight lines between readings.
func (g *gauge) passages() (all []passage) {
	for i := 1; i < len(g.first); i++ {
		a, b := g.first[i-1], g.first[i]
		if (a < 0) == (b < 0) {
			continue
		}
		share := a / (a - b)
		before, after := math.Log(g.above[i-1]), math.Log(g.above[i])
		all = append(all, passage{
			time: g.time[i-1] + share*(g.time[i]-g.time[i-1]),
			log:  before + share*(after-before),
		})
	}
	return all
}
