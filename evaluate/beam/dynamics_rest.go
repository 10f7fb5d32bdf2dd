package beam

// mostParts is into how many the weight is cut before rest is given up.
const mostParts = 64

// settle brings the rod to rest with the butt at that angle and the lead
// hanging from the tip. It fails where there is no stable rest.
func (m *motion) settle(butt float64) bool {
	for parts := 1; parts <= mostParts; parts *= 4 {
		if m.settleIn(parts, butt) {
			m.beAtRest()
			return true
		}
	}
	return false
}

// settleIn begins straight and adds the weight in that many parts.
func (m *motion) settleIn(parts int, butt float64) bool {
	whole := m.gravity
	defer func() { m.gravity = whole }()
	m.pace = rest
	clear(m.now.bubble)
	for i := range m.now.turn {
		m.now.turn[i] = butt
	}
	for k := range parts {
		m.gravity = whole * float64(k+1) / float64(parts)
		if !m.balance() {
			return false
		}
	}
	return true
}

// angleTolerance is the Newton step, in rad, at which a posture is taken as found.
const angleTolerance = 1e-10

// balance is Newton's method for the posture at rest, which must be stable.
func (m *motion) balance() bool {
	clamp := direction(m.now.turn[0]).times(m.arm)
	for range mostRounds {
		m.now.place(m.rod, clamp)
		m.was.copyFrom(&m.now)
		stable := m.sweep()
		size := m.respond()
		if !finite(size) || size > longestStep {
			return false
		}
		if size <= angleTolerance {
			m.now.place(m.rod, clamp)
			return stable
		}
	}
	return false
}

// beAtRest takes the posture found as the beginning of a motion.
func (m *motion) beAtRest() {
	if l := &m.tether; l.mass > 0 {
		hang := l.drop + l.mass*m.gravity/l.stiffness
		m.now.lead = m.now.node[len(m.now.node)-1].minus(vector{0, hang})
	}
	m.was.copyFrom(&m.now)
	clear(m.speed.inside)
	clear(m.speed.node)
	m.speed.lead = vector{}
	clear(m.rate.all)
	m.last, m.earlier, m.account = 0, 0, Account{}
}
