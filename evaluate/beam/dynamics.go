package beam

import "math"

// motion is a rod moving in the plane, x forwards and y upwards, its butt led
// by the hand and a lead on its tip. See the package documentation on the cast
// for equations and sources.
type motion struct {
	rod       *Rod
	arm       float64 // m from the hand's pivot, which is the origin, to the clamp
	gravity   float64 // m/s², downwards
	viscosity float64 // moment per rate of curvature over that per curvature, s
	tether    tether

	was, now posture
	speed    speeds // at was
	pace     pace

	inertia []inertia
	links   []link
	hitch   haul
	rate    state   // mean over the last step, rad/s
	before  state   // and over the one before it
	last    float64 // their lengths, s
	earlier float64
	moment  []float64 // at the nodes, halfway through the last step, N·m
	hand    vector    // force of the hand on the clamp, likewise, N
	account Account
}

// speeds are the velocities of the points of a posture, m/s.
type speeds struct {
	inside [][points]vector
	node   []vector
	lead   vector
}

// pace is what the length of a step sets. A step of no length, the zero pace,
// looks for rest.
type pace struct {
	step    float64 // s
	move    float64 // force per mass and displacement in the step, 2/step²
	drift   float64 // force per mass and velocity before it, 2/step
	viscous float64 // share of viscous in elastic stiffness, 2·viscosity/step
	both    float64 // change over the step for a change of its mean
}

func newPace(step, viscosity float64) pace {
	return pace{step, 2 / (step * step), 2 / step, 2 * viscosity / step, 2}
}

var rest = pace{both: 1}

func newMotion(r *Rod) *motion {
	n := len(r.elements)
	m := &motion{
		rod: r, gravity: Gravity, was: newPosture(r), now: newPosture(r),
		speed: speeds{inside: make([][points]vector, n), node: make([]vector, n+1)},
		links: make([]link, n), moment: make([]float64, n+1),
		rate: newState(r), before: newState(r), inertia: make([]inertia, n),
	}
	for e := range m.inertia {
		m.inertia[e] = newInertia(&r.elements[e])
	}
	return m
}

const (
	// stepTolerance is the change of any angle, in rad, at which a step is
	// taken as found. Each round leaves about a hundredth of the error.
	stepTolerance = 1e-6
	// mostRounds before a step is given up.
	mostRounds = 25
)

// try finds the posture at the end of a step, where the butt is at that angle.
// Until it is accepted another may be tried.
func (m *motion) try(step, butt float64) bool {
	m.pace = newPace(step, m.viscosity)
	m.predict(butt)
	for range mostRounds {
		m.now.place(m.rod, direction(butt).times(m.arm))
		ok := m.sweep()
		size := m.respond()
		if !ok || !finite(size) || size > longestStep {
			return false
		}
		if size <= stepTolerance {
			m.now.place(m.rod, direction(butt).times(m.arm))
			return true
		}
	}
	return false
}

// predict lets the rates of turn go on changing as they did over the last two
// steps.
func (m *motion) predict(butt float64) {
	step, more := m.pace.step, 0.0
	if m.earlier > 0 {
		more = (step + m.last) / (m.last + m.earlier)
	}
	for i, v := range m.was.all {
		m.now.all[i] = v + step*((1+more)*m.rate.all[i]-more*m.before.all[i])
	}
	m.now.turn[0] = butt
	m.now.lead = m.was.lead.plus(m.speed.lead.times(step))
}

// keepRates keeps those of the step just accepted for the next to go on with.
func (m *motion) keepRates() {
	m.rate, m.before = m.before, m.rate
	m.last, m.earlier = m.pace.step, m.last
	for i, v := range m.now.all {
		m.rate.all[i] = (v - m.was.all[i]) / m.last
	}
}

// effective is the force that a point needs to move as it does, against its
// inertia and its weight (d'Alembert), in the mean of the step.
func (m *motion) effective(mass float64, now, was, speed vector) vector {
	p := &m.pace
	return vector{
		mass * (p.move*(now.x-was.x) - p.drift*speed.x),
		mass * (p.move*(now.y-was.y) - p.drift*speed.y + m.gravity),
	}
}

// nodeForce is the effective force of the point mass at a node.
func (m *motion) nodeForce(i int) vector {
	return m.effective(m.rod.mass[i], m.now.node[i], m.was.node[i], m.speed.node[i])
}

// sweep goes from the lead to the clamp, and eliminates all unknowns on the
// way. It fails where the step has no minimum.
func (m *motion) sweep() bool {
	q, beyond := m.end()
	sound := true
	for e := len(m.rod.elements) - 1; e >= 0; e-- {
		f := m.nodeForce(e + 1)
		q.push(f)
		inertia := 2 * m.pace.move * m.rod.mass[e+1]
		q.xx += inertia
		q.yy += inertia
		beyond = beyond.plus(f)
		c := m.cost(e, &q, &beyond)
		var ok bool
		q, ok = c.eliminate(&m.links[e])
		sound = sound && ok
	}
	return sound
}

// end is what the lead costs the tip, and the force that it needs there. At
// rest it only weighs.
func (m *motion) end() (q quadratic, beyond vector) {
	l := &m.tether
	if m.pace.step == 0 {
		f := vector{0, l.mass * m.gravity}
		q.push(f)
		return q, f
	}
	m.hitch = l.haul(&m.was, &m.now)
	h := &m.hitch
	if h.tension == 0 {
		return q, vector{}
	}
	inertia := 2 * m.pace.move * l.mass
	along, across := h.along/(inertia+h.along), h.across/(inertia+h.across)
	x, y := h.split(vector{1, 0}, inertia*along, inertia*across), h.split(vector{0, 1}, inertia*along, inertia*across)
	q.xx, q.xy, q.yy = x.x, x.y, y.y
	pull := h.pull()
	q.push(h.split(m.leadForce().plus(pull), along, across).minus(pull))
	return q, pull.times(-1)
}

// leadForce is the effective force of the lead.
func (m *motion) leadForce() vector {
	return m.effective(m.tether.mass, m.now.lead, m.was.lead, m.speed.lead)
}

// cost is what the element's unknowns cost, with all beyond it. On return
// beyond counts the element in.
func (m *motion) cost(e int, far *quadratic, beyond *vector) cost {
	normal := m.normals(e)
	outside, whole := m.elementForce(e)
	in, h, inertia := &m.inertia[e], m.rod.elements[e].h, 2*m.pace.move
	var at turning
	var resist [points]vector
	for k := range points {
		at.reach[k] = normal[k].times(h * gaussWeight[k])
		resist[k] = far.resist(at.reach[k])
		at.cross[k] = resist[k].plus(normal[k].times(inertia * in.first[k]))
		at.linear[k] = at.reach[k].dot(outside[k].plus(vector{far.x, far.y}))
		for i := 0; i <= k; i++ {
			at.own[i][k] = at.reach[i].dot(resist[k]) + inertia*in.second[i][k]*normal[i].dot(normal[k])
		}
		tangent := m.was.along[e][k].plus(m.now.along[e][k])
		at.own[k][k] -= h * gaussWeight[k] * tangent.dot(outside[k].plus(*beyond)) / 2
	}
	c := at.byUnknowns()
	c.addEnd(far)
	c.xx, c.xy, c.yy = far.xx+inertia*in.mass, far.xy, far.yy+inertia*in.mass
	c.x, c.y = far.x+whole.x, far.y+whole.y
	*beyond = beyond.plus(whole)
	m.addBending(e, &c)
	return c
}

// addBending adds the elastic and the viscous moments at the middle of the step.
func (m *motion) addBending(e int, c *cost) {
	el := &m.rod.elements[e]
	more := 1 + m.pace.viscous
	c.own[startTurn][startTurn] += more * el.kEnds
	c.own[startTurn][endTurn] -= more * el.kEnds
	c.own[endTurn][endTurn] += more * el.kEnds
	c.own[startTurn][bubbleTurn] -= more * el.kMixed
	c.own[bubbleTurn][endTurn] += more * el.kMixed
	c.own[bubbleTurn][bubbleTurn] += more * el.kBubble
	less := 1 - m.pace.viscous
	d := (more*(m.now.turn[e+1]-m.now.turn[e]) + less*(m.was.turn[e+1]-m.was.turn[e])) / 2
	b := (more*m.now.bubble[e] + less*m.was.bubble[e]) / 2
	ends, bubble := el.kEnds*d+el.kMixed*b, el.kMixed*d+el.kBubble*b
	c.linear[startTurn] -= ends
	c.linear[endTurn] += ends
	c.linear[bubbleTurn] += bubble
}

// normals are those of the chords at the Gauss points.
func (m *motion) normals(e int) (n [points]vector) {
	start := m.now.turn[e] - m.was.turn[e]
	end := m.now.turn[e+1] - m.was.turn[e+1]
	bubble := m.now.bubble[e] - m.was.bubble[e]
	for k := range points {
		turn := start*shapeStart[k] + end*shapeEnd[k] + bubble*shapeBubble[k]
		n[k] = chordNormal(m.was.along[e][k], m.now.along[e][k], turn)
	}
	return n
}

// elementForce is the effective force of an element, whole and outside each of
// its Gauss points.
func (m *motion) elementForce(e int) (outside [points]vector, whole vector) {
	el := &m.rod.elements[e]
	var f [points]vector
	for j := range points {
		f[j] = m.effective(el.h*el.mu[j], m.now.inside[e][j], m.was.inside[e][j], m.speed.inside[e][j])
	}
	outside, whole = integrals(&f)
	for k := range points {
		outside[k] = whole.minus(outside[k])
	}
	return outside, whole
}

// respond goes from the clamp to the lead, and changes the posture to the
// minimum that the sweep found. It gives the largest change of an angle.
func (m *motion) respond() (size float64) {
	var move vector
	start, both := 0.0, m.pace.both
	for e := range m.links {
		l := &m.links[e]
		bubble := l.bubble.at(move, start, 0)
		end := l.end.at(move, start, bubble)
		m.now.bubble[e] += both * bubble
		m.now.turn[e+1] += both * end
		size = max(size, both*math.Abs(bubble), both*math.Abs(end))
		move = move.plus(l.reach[startTurn].times(start)).
			plus(l.reach[bubbleTurn].times(bubble)).plus(l.reach[endTurn].times(end))
		start = end
	}
	if m.tether.mass > 0 && m.pace.step > 0 {
		size = max(size, m.respondLead(move))
	}
	return size
}

// respondLead moves the lead, and gives its change as an angle at the tip.
func (m *motion) respondLead(tip vector) float64 {
	h := &m.hitch
	inertia := 2 * m.pace.move * m.tether.mass
	f := m.leadForce().plus(h.pull()).times(-1).plus(h.split(tip, h.along, h.across))
	move := h.split(f, 1/(inertia+h.along), 1/(inertia+h.across)).times(m.pace.both)
	m.now.lead = m.now.lead.plus(move)
	return move.length() / m.tether.drop
}
