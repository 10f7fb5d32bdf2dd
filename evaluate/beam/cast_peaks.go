package beam

import "math"

// watch keeps the largest moment, curvature and turn of the step just accepted,
// which ends at that time. Moments and curvatures are those halfway through it;
// the curvature is what the moment leaves without its viscous part.
func (f *Flight) watch(m *motion, time float64) {
	half, nodes := time-m.last/2, m.rod.nodes
	for e := range m.rod.elements {
		el := &m.rod.elements[e]
		ends, bubble := m.rate.turn[e+1]-m.rate.turn[e], 4*m.rate.bubble[e]
		f.Moment.keep(m.moment[e], nodes[e], half)
		f.Curvature.keep(m.moment[e]/el.eiStart-m.viscosity*(ends+bubble)/el.h, nodes[e], half)
		f.Curvature.keep(m.moment[e+1]/el.eiEnd-m.viscosity*(ends-bubble)/el.h, nodes[e+1], half)
	}
	tip := len(nodes) - 1
	f.Turn.keep(m.was.turn[tip]-m.was.turn[0], nodes[tip], time)
}

// keep takes the value if it is larger than the one kept.
func (p *Peak) keep(value, s, time float64) {
	if math.Abs(value) > math.Abs(p.Value) {
		*p = Peak{value, s, time}
	}
}
