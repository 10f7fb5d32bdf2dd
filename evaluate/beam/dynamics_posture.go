package beam

import "math"

// posture is where the rod and the lead are at one moment, in a frame at rest.
// Its turns are counted from the frame's x axis.
type posture struct {
	state
	along  [][points]vector // direction of the rod at the Gauss points
	inside [][points]vector // places of the Gauss points, m
	node   []vector         // places of the nodes, m
	lead   vector           // m
}

func newPosture(r *Rod) posture {
	n := len(r.elements)
	return posture{
		state: newState(r), node: make([]vector, n+1),
		along: make([][points]vector, n), inside: make([][points]vector, n),
	}
}

func (p *posture) copyFrom(other *posture) {
	copy(p.all, other.all)
	copy(p.along, other.along)
	copy(p.inside, other.inside)
	copy(p.node, other.node)
	p.lead = other.lead
}

// place works out directions and places from the turns and the clamp's place.
func (p *posture) place(r *Rod, clamp vector) {
	p.node[0] = clamp
	for e := range r.elements {
		start, end, bubble := p.turn[e], p.turn[e+1], p.bubble[e]
		t := &p.along[e]
		for j := range t {
			t[j] = direction(start*shapeStart[j] + end*shapeEnd[j] + bubble*shapeBubble[j])
		}
		h := r.elements[e].h
		to, whole := integrals(t)
		for j := range to {
			p.inside[e][j] = p.node[e].plus(to[j].times(h))
		}
		p.node[e+1] = p.node[e].plus(whole.times(h))
	}
}

// span is the distance of the lead from the tip, m.
func (p *posture) span() float64 { return p.lead.minus(p.node[len(p.node)-1]).length() }

// integrals are those of the vectors' components.
func integrals(v *[points]vector) (to [points]vector, whole vector) {
	x, wholeX := integral(&[points]float64{v[0].x, v[1].x, v[2].x})
	y, wholeY := integral(&[points]float64{v[0].y, v[1].y, v[2].y})
	for j := range to {
		to[j] = vector{x[j], y[j]}
	}
	return to, vector{wholeX, wholeY}
}

// combine is ∑ w·v.
func combine(w *[points]float64, v *[points]vector) vector {
	return vector{
		w[0]*v[0].x + w[1]*v[1].x + w[2]*v[2].x,
		w[0]*v[0].y + w[1]*v[1].y + w[2]*v[2].y,
	}
}

// chordNormal is n̄ with after − before = n̄·turn, where before and after are
// unit vectors that turn apart: the discrete derivative of a direction by its
// angle.
func chordNormal(before, after vector, turn float64) vector {
	const small = 1e-3 // below it the difference loses digits, and the series is exact to rounding
	if math.Abs(turn) > small {
		return after.minus(before).times(1 / turn)
	}
	return before.plus(after).left().times(0.5 + turn*turn/24)
}

func (a vector) plus(b vector) vector { return vector{a.x + b.x, a.y + b.y} }

// left is the vector turned a quarter turn from x towards y.
func (a vector) left() vector { return vector{-a.y, a.x} }
