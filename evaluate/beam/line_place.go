package beam

import "math"

// vector is a place or a direction in the plane of the bend.
type vector struct{ x, y float64 }

func (a vector) minus(b vector) vector  { return vector{a.x - b.x, a.y - b.y} }
func (a vector) dot(b vector) float64   { return a.x*b.x + a.y*b.y }
func (a vector) cross(b vector) float64 { return a.x*b.y - a.y*b.x }
func (a vector) times(k float64) vector { return vector{a.x * k, a.y * k} }
func (a vector) length() float64        { return math.Hypot(a.x, a.y) }
func direction(angle float64) vector    { sin, cos := math.Sincos(angle); return vector{cos, sin} }

// place is a point fixed to a cross-section: at the share u of an element and
// at an offset along the hollow side's normal n = (−sin θ, cos θ).
type place struct {
	s       float64 // m from the clamp
	element int     // held for a place that does not move
	u       float64
	upTo    [points]float64 // integrateUpTo(u)
	offset  float64         // m
}

// held marks a place on the part of the rod that is held, up to the clamp.
const held = -1

// placeAt is the place of a ring. A node belongs to the element after it.
func (r *Rod) placeAt(ring LineRing) place {
	p := place{s: ring.S, element: held, offset: ring.Offset}
	i := nearest(r.nodes, ring.S)
	switch last := len(r.elements); {
	case ring.S <= joinTolerance*r.Length():
	case math.Abs(ring.S-r.nodes[i]) > joinTolerance*r.Length():
		if r.nodes[i] > ring.S {
			i--
		}
		p = p.within(i, (ring.S-r.nodes[i])/r.elements[i].h)
	case i == last:
		p = p.within(last-1, 1)
	default:
		p.element = i
	}
	return p
}

// within is the place in that part of an element.
func (p place) within(element int, u float64) place {
	p.element, p.u, p.upTo = element, u, integrateUpTo(u)
	return p
}

// asEnd is the same place as one of the element before, where it is a node.
func (p place) asEnd() place {
	if p.u == 0 && p.element > 0 {
		return p.within(p.element-1, 1)
	}
	return p
}

// shapes are the element's shape functions for the turn at u: linear, linear
// and 4u(1−u).
func shapes(u float64) [3]float64 { return [3]float64{1 - u, u, 4 * u * (1 - u)} }

// integrateUpTo are the shares of the values at the points in their integral
// from the element's start to u: the integrals of the Lagrange polynomials of
// the Gauss points, so that at 1 they are the weights.
func integrateUpTo(u float64) (shares [points]float64) {
	for j, c := range &lagrange {
		shares[j] = u * (c[0] + u*(c[1]+u*c[2]))
	}
	return shares
}

// lagrange are the coefficients of u, u² and u³ in those integrals.
var lagrange = func() (c [points][3]float64) {
	for j, at := range gaussAt {
		a, b := gaussAt[(j+1)%points], gaussAt[(j+2)%points]
		whole := (at - a) * (at - b)
		c[j] = [3]float64{a * b / whole, -(a + b) / 2 / whole, 1 / (3 * whole)}
	}
	return c
}()

// knot is a place with where it is in a trial bend.
type knot struct {
	place
	at     vector
	normal vector // n of its cross-section
	ring   int    // index among the rings, 0 for the reel; onBlank between rings
}

// onBlank marks a knot where the line touches the blank.
const onBlank = -1

// nodesAt fills at with where the nodes are in the trial bend of the potential.
func (p *potential) nodesAt(r *Rod, at []vector) {
	for e := range r.elements {
		h, t := r.elements[e].h, &p.tangent[e]
		at[e+1] = vector{at[e].x + h*weighted(&t.cos), at[e].y + h*weighted(&t.sin)}
	}
}

// centre is where the centreline is at a place.
func (p *potential) centre(r *Rod, nodes []vector, pl *place) vector {
	if pl.element == held {
		return vector{pl.s, 0}
	}
	at := nodes[pl.element]
	if pl.u == 0 {
		return at
	}
	h, t := r.elements[pl.element].h, &p.tangent[pl.element]
	for j, share := range &pl.upTo {
		at.x += h * share * t.cos[j]
		at.y += h * share * t.sin[j]
	}
	return at
}

// normalAt is n at a place.
func (st *state) normalAt(pl *place) vector {
	if pl.element == held {
		return vector{0, 1}
	}
	n := shapes(pl.u)
	sin, cos := math.Sincos(n[0]*st.turn[pl.element] + n[1]*st.turn[pl.element+1] + n[2]*st.bubble[pl.element])
	return vector{-sin, cos}
}
