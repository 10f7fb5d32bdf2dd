package beam

import "math"

// watch keeps the largest moment, curvature and turn of the step just tried,
// which ends at that time. Moments and curvatures are those halfway through it.
func (f *Flight) watch(m *motion, time float64) {
	half := time - m.pace.step/2
	for e := range m.rod.elements {
		el := &m.rod.elements[e]
		d, b := m.turnRate(e)
		start, end := (d+4*b)/el.h, (d-4*b)/el.h
		f.Moment.keep(m.moment[e], m.rod.nodes[e], half)
		f.Curvature.keep(m.moment[e]/el.eiStart-m.viscosity*start, m.rod.nodes[e], half)
		f.Curvature.keep(m.moment[e+1]/el.eiEnd-m.viscosity*end, m.rod.nodes[e+1], half)
	}
	tip := len(m.rod.nodes) - 1
	f.Turn.keep(m.now.turn[tip]-m.now.turn[0], m.rod.nodes[tip], time)
}

// turnRate is how fast an element's ends turn apart and its bubble grows, in
// the mean of the step, rad/s.
func (m *motion) turnRate(e int) (ends, bubble float64) {
	ends = m.now.turn[e+1] - m.now.turn[e] - m.was.turn[e+1] + m.was.turn[e]
	bubble = m.now.bubble[e] - m.was.bubble[e]
	return ends / m.pace.step, bubble / m.pace.step
}

// keep takes the value if it is larger than the one kept.
func (p *Peak) keep(value, s, time float64) {
	if math.Abs(value) > math.Abs(p.Value) {
		*p = Peak{value, s, time}
	}
}
