package beam

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// state is a trial bend: the turn at every node and, in every element, how far
// the turn at the middle exceeds the mean of the ends.
type state struct {
	all    []float64 // both of the following, end to end
	turn   []float64 // rad, one a node; turn[0] is the clamp's 0
	bubble []float64 // rad, one an element
}

func newState(r *Rod) state { return stateOf(make([]float64, len(r.nodes)+len(r.elements))) }

// stateOf is the state of one node more than elements that those values are.
func stateOf(all []float64) state {
	nodes := len(all)/2 + 1
	return state{all, all[:nodes], all[nodes:]}
}

// add is st = base + share·step.
func (st *state) add(base, step state, share float64) {
	floats.AddScaledTo(st.all, base.all, share, step.all)
}

// largest is the greatest magnitude in the state.
func (st *state) largest() float64 { return floats.Norm(st.all, math.Inf(1)) }

// dot is the product of a gradient and a step.
func (st *state) dot(other state) float64 { return floats.Dot(st.all, other.all) }

// potential is the potential energy of the rod at one state and load, with its
// first derivatives and what the second ones need.
type potential struct {
	bending float64    // ½∫EI θ'² ds, J
	loads   float64    // −∫F·t ds − ∑ h n·F, J
	slope   state      // derivatives by the unknowns, N·m
	tangent []tangents // of the elements
	knots   []float64  // second derivatives of the offset terms, at the nodes
	line    lineTerms  // empty without a line
}

// tangents are the directions of the rod at the Gauss points of an element.
type tangents struct {
	sin, cos [points]float64
	along    [points]float64 // w·h·F·t: second derivative of the loads' energy, J
}

func newPotential(r *Rod) potential {
	n := len(r.elements)
	return potential{slope: newState(r), tangent: make([]tangents, n), knots: make([]float64, n+1)}
}

// energy is the whole potential energy.
func (p *potential) energy() float64 { return p.bending + p.loads }

// evaluate works out the potential at a state. The force on a cross-section is
// the sum of what acts beyond it, so every term belongs to one element or node.
func (p *potential) evaluate(r *Rod, l Load, st state) {
	p.bending, p.loads = 0, 0
	clear(p.slope.turn)
	fx, fy := l.components()
	gravity := l.gravity()
	for e := range r.elements {
		el, at := &r.elements[e], &p.tangent[e]
		start, end, bubble := st.turn[e], st.turn[e+1], st.bubble[e]
		var across [points]float64
		for j := range points {
			sin, cos := math.Sincos(start*shapeStart[j] + end*shapeEnd[j] + bubble*shapeBubble[j])
			wh := gaussWeight[j] * el.h
			gx, gy := wh*fx, wh*(fy+gravity*el.beyond[j])
			along := gx*cos + gy*sin
			at.sin[j], at.cos[j], at.along[j] = sin, cos, along
			across[j] = gx*sin - gy*cos
			p.loads -= along
		}
		d := end - start
		md, mb := el.kEnds*d+el.kMixed*bubble, el.kMixed*d+el.kBubble*bubble
		p.bending += (md*d + mb*bubble) / 2
		p.slope.spread(e, &across)
		p.slope.turn[e] -= md
		p.slope.turn[e+1] += md
		p.slope.bubble[e] += mb
	}
	p.addOffsets(r, l, st)
	p.slope.turn[0] = 0 // held by the clamp
}

// spread adds what acts on the turn at the Gauss points of an element to its
// nodes, and sets its bubble.
func (st *state) spread(e int, torque *[points]float64) {
	var start, end, bubble float64
	for j, m := range torque {
		start += m * shapeStart[j]
		end += m * shapeEnd[j]
		bubble += m * shapeBubble[j]
	}
	st.turn[e] += start
	st.turn[e+1] += end
	st.bubble[e] = bubble
}

// addOffsets adds −h n·F of the forces that act off the centreline, with
// n = (−sin θ, cos θ).
func (p *potential) addOffsets(r *Rod, l Load, st state) {
	clear(p.knots)
	if l.Offset != 0 {
		tip := len(st.turn) - 1
		fx, fy := l.components()
		p.addOffset(tip, l.Offset*fx, l.Offset*fy, st)
	}
	if l.Weight && r.offsets {
		for i, m := range r.moment {
			if m != 0 {
				p.addOffset(i, 0, Gravity*m, st)
			}
		}
	}
}

// addOffset adds the term of a force times its offset, (ox, oy) in N·m.
func (p *potential) addOffset(i int, ox, oy float64, st state) {
	sin, cos := math.Sincos(st.turn[i])
	p.loads -= cos*oy - sin*ox
	p.slope.turn[i] += cos*ox + sin*oy
	p.knots[i] += cos*oy - sin*ox
}

// forceRate fills out with the derivative of the slope by the tip force.
func (p *potential) forceRate(r *Rod, l Load, st, out state) {
	ay, ax := math.Sincos(l.Direction)
	clear(out.turn)
	for e := range r.elements {
		at := &p.tangent[e]
		var across [points]float64
		for j := range points {
			across[j] = gaussWeight[j] * r.elements[e].h * (ax*at.sin[j] - ay*at.cos[j])
		}
		out.spread(e, &across)
	}
	tip := len(st.turn) - 1
	sin, cos := math.Sincos(st.turn[tip])
	out.turn[tip] += l.Offset * (cos*ax + sin*ay)
	out.turn[0] = 0
}

// drop is y of the tip, ∫sin θ ds.
func (p *potential) drop(r *Rod) float64 {
	y := 0.0
	for e := range r.elements {
		y += r.elements[e].h * weighted(&p.tangent[e].sin)
	}
	return y
}

// dropRate fills out with the derivative of drop by the unknowns.
func (p *potential) dropRate(r *Rod, out state) {
	clear(out.turn)
	for e := range r.elements {
		var dy [points]float64
		for j, cos := range p.tangent[e].cos {
			dy[j] = gaussWeight[j] * r.elements[e].h * cos
		}
		out.spread(e, &dy)
	}
	out.turn[0] = 0
}
