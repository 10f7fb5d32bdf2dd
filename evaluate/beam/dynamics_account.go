package beam

// Account is where the work of the hand has gone since the start, in J. It is
// all that the hand does to the rod beyond the hold; what it does to the held
// part, and to itself, does not count.
type Account struct {
	Work float64 `json:"work"` // done by the hand

	Rod    float64 `json:"rod"`    // kinetic energy of the rod
	Lead   float64 `json:"lead"`   // kinetic energy of the lead
	Bent   float64 `json:"bent"`   // stored in the bend, more than at the start
	Line   float64 `json:"line"`   // stored in the drop, more than at the start
	Raised float64 `json:"raised"` // weight lifted, rod and lead
	Lost   float64 `json:"lost"`   // turned to heat in the rod, or gone with the drop's recoil at the release
}

// accept books the step that try has found, and makes its end the beginning of
// the next.
func (m *motion) accept() {
	m.bookWork()
	m.account.Lost += m.heat()
	m.account.Bent += m.bending(&m.now) - m.bending(&m.was)
	if l := &m.tether; l.mass > 0 {
		m.account.Line += l.energy(m.now.span()) - l.energy(m.was.span())
	}
	m.account.Rod, m.account.Lead = 0, 0
	m.advanceRod()
	m.advanceLead()
	m.keepRates()
	m.was, m.now = m.now, m.was
}

// advanceRod brings the speeds of the rod up to date, and books its kinetic
// energy and its height.
func (m *motion) advanceRod() {
	for e := range m.rod.elements {
		el := &m.rod.elements[e]
		for j := range points {
			m.advance(gaussWeight[j]*el.h*el.mu[j], m.now.inside[e][j], m.was.inside[e][j], &m.speed.inside[e][j], &m.account.Rod)
		}
	}
	for i, mass := range m.rod.mass {
		m.advance(mass, m.now.node[i], m.was.node[i], &m.speed.node[i], &m.account.Rod)
	}
}

func (m *motion) advanceLead() {
	if m.tether.mass > 0 {
		m.advance(m.tether.mass, m.now.lead, m.was.lead, &m.speed.lead, &m.account.Lead)
	}
}

// advance makes the mean of the speeds before and after the step that of the
// step.
func (m *motion) advance(mass float64, now, was vector, speed *vector, kinetic *float64) {
	*speed = now.minus(was).times(m.pace.drift).minus(*speed)
	*kinetic += mass * speed.dot(*speed) / 2
	m.account.Raised += mass * m.gravity * (now.y - was.y)
}

// bookWork works out the moments along the rod at the middle of the step, and
// books the work of the hand: that of the force and the moment on the clamp.
func (m *motion) bookWork() {
	var beyond vector
	if m.tether.mass > 0 {
		m.hitch = m.tether.haul(&m.was, &m.now)
		beyond = m.hitch.pull().times(-1)
	}
	last := len(m.rod.elements)
	m.moment[last] = 0
	for e := last - 1; e >= 0; e-- {
		beyond = beyond.plus(m.nodeForce(e + 1))
		normal := m.normals(e)
		outside, whole := m.elementForce(e)
		sum := 0.0
		for k := range points {
			sum += gaussWeight[k] * normal[k].dot(outside[k].plus(beyond))
		}
		m.moment[e] = m.moment[e+1] - m.rod.elements[e].h*sum
		beyond = beyond.plus(whole)
	}
	m.hand = beyond.plus(m.nodeForce(0))
	m.account.Work += m.hand.dot(m.now.node[0].minus(m.was.node[0])) - m.moment[0]*(m.now.turn[0]-m.was.turn[0])
}

// bending energy of a posture, J.
func (m *motion) bending(p *posture) float64 {
	sum := 0.0
	for e := range m.rod.elements {
		sum += m.rod.elements[e].energy(p.turn[e+1]-p.turn[e], p.bubble[e])
	}
	return sum
}

// stored is the energy in the bend and in the rod's height over the hand, J.
func (m *motion) stored() float64 {
	height := 0.0
	m.eachPoint(func(mass float64, at, _ vector) { height += mass * at.y })
	return m.bending(&m.was) + m.gravity*height
}

// eachPoint visits the rod's points of mass, with their places and speeds.
func (m *motion) eachPoint(visit func(mass float64, at, speed vector)) {
	for e := range m.rod.elements {
		el := &m.rod.elements[e]
		for j := range points {
			visit(gaussWeight[j]*el.h*el.mu[j], m.was.inside[e][j], m.speed.inside[e][j])
		}
	}
	for i, mass := range m.rod.mass {
		visit(mass, m.was.node[i], m.speed.node[i])
	}
}

// heat is what the viscous moments take in the step, J.
func (m *motion) heat() float64 {
	sum := 0.0
	for e := range m.rod.elements {
		turn := m.now.turn[e+1] - m.was.turn[e+1] - m.now.turn[e] + m.was.turn[e]
		sum += m.rod.elements[e].energy(turn, m.now.bubble[e]-m.was.bubble[e])
	}
	return m.pace.viscous * sum
}

// energy is ½∫EI θ'² ds for a turn over the element and a bubble.
func (el *element) energy(turn, bubble float64) float64 {
	return (el.kEnds*turn*turn + 2*el.kMixed*turn*bubble + el.kBubble*bubble*bubble) / 2
}

// leadSpeed is that of the lead at the end of the step just tried.
func (m *motion) leadSpeed() vector {
	return m.now.lead.minus(m.was.lead).times(m.pace.drift).minus(m.speed.lead)
}

// cut frees the lead. What the line had stored is lost.
func (m *motion) cut() {
	stored := m.tether.energy(m.was.span())
	m.account.Line -= stored
	m.account.Lost += stored
	m.tether.stiffness = 0
}
