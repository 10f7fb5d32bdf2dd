package beam

// tether is the lead on its drop: a point mass on a massless, elastic line
// that pulls and does not push.
type tether struct {
	mass      float64 // of the lead, kg; 0 where there is none
	drop      float64 // slack length of the line, m
	stiffness float64 // N for each metre it is stretched; 0 once let go
}

func (l *tether) stretch(length float64) float64 { return max(0, length-l.drop) }

// energy stored in the line at that length, J.
func (l *tether) energy(length float64) float64 {
	s := l.stretch(length)
	return l.stiffness * s * s / 2
}

// tension is the discrete derivative of the energy by the length: what is
// gained between two lengths, over their difference (Gonzalez 1996, J.
// Nonlinear Sci. 6:449). rate is its own derivative by the length after.
func (l *tether) tension(before, after float64) (tension, rate float64) {
	b, a := l.stretch(before), l.stretch(after)
	switch {
	case b > 0 && a > 0:
		return l.stiffness * (a + b) / 2, l.stiffness / 2
	case b == 0 && a == 0:
		return 0, 0
	}
	tension = (l.energy(after) - l.energy(before)) / (after - before)
	return tension, (l.stiffness*a - tension) / (after - before)
}

// haul is the line's part in one step: its mean pull and how that gives.
type haul struct {
	tension   float64 // N
	direction vector  // from the tip to the lead, of length 1 where the line does not turn
	along     float64 // stiffness along the line, N/m
	across    float64 // and across it
}

func (l *tether) haul(was, now *posture) haul {
	tip := len(was.node) - 1
	before, after := was.lead.minus(was.node[tip]), now.lead.minus(now.node[tip])
	lb, la := before.length(), after.length()
	tension, rate := l.tension(lb, la)
	return haul{
		tension: tension, direction: before.plus(after).times(1 / (lb + la)),
		along: 2 * rate, across: 2 * tension / (lb + la),
	}
}

// pull is the mean force on the tip, N.
func (h *haul) pull() vector { return h.direction.times(h.tension) }

// split gives v times one factor along the line and another across it.
func (h *haul) split(v vector, along, across float64) vector {
	u := h.direction.times(1 / h.direction.length())
	a := u.times(u.dot(v))
	return a.times(along).plus(v.minus(a).times(across))
}
