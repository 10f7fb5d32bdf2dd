package beam

import (
	"math"
	"slices"
)

// Shape is a rod bent in equilibrium, given at the nodes of its mesh, clamp
// first.
type Shape struct {
	S         []float64 // m along the rod from the clamp
	X, Y      []float64 // m along the butt's direction, and down from it
	Turn      []float64 // rad from the butt's direction, towards down
	Moment    []Sides   // N·m, positive where it turns the rod down
	Curvature []Sides   // 1/m, the moment over the stiffness

	Load Load

	rod      *Rod
	linePull []linePull // at every node; none without a line
}

// Sides are the values just before a node, seen from the clamp, and just after
// it. They differ where the stiffness jumps or a mass stands off the
// centreline. At the ends of the rod both are the same.
type Sides struct{ Before, After float64 }

// Point is one point of a bent rod.
type Point struct {
	S, X, Y   float64 // m
	Turn      float64 // rad
	Curvature float64 // 1/m
}

// Tip is the last point.
func (sh *Shape) Tip() Point {
	last := len(sh.S) - 1
	return Point{
		S: sh.S[last], X: sh.X[last], Y: sh.Y[last], Turn: sh.Turn[last],
		Curvature: sh.Curvature[last].Before,
	}
}

// shape works out the bend from the state just found, for which the potential
// is that of the last evaluation.
func (s *Solver) shape(l Load) *Shape {
	n := len(s.rod.nodes)
	values := make([]float64, 3*n)
	sides := make([]Sides, 2*n)
	sh := &Shape{
		S: s.rod.nodes, X: values[:n:n], Y: values[n : 2*n : 2*n], Turn: values[2*n:],
		Moment: sides[:n:n], Curvature: sides[n:],
		Load: l, rod: s.rod,
	}
	copy(sh.Turn, s.state.turn)
	sh.place(&s.pot)
	sh.moments(&s.pot)
	return sh
}

// place integrates the tangent from the clamp.
func (sh *Shape) place(p *potential) {
	for e := range sh.rod.elements {
		h := sh.rod.elements[e].h
		sh.X[e+1] = sh.X[e] + h*weighted(&p.tangent[e].cos)
		sh.Y[e+1] = sh.Y[e] + h*weighted(&p.tangent[e].sin)
	}
}

// moments integrates M′ = −t×F from the tip, where F is what acts beyond. The
// derivative of the interpolated turn is an order less accurate than this.
func (sh *Shape) moments(p *potential) {
	r, gravity := sh.rod, sh.Load.gravity()
	fx, fy := sh.Load.components()
	tip := len(r.nodes) - 1
	sin, cos := math.Sincos(sh.Turn[tip])
	m := 0 - sh.Load.Offset*(cos*fx+sin*fy) + sh.offsetMoment(tip)
	sh.setSides(tip, m, m)
	for e := tip - 1; e >= 0; e-- {
		el, at := &r.elements[e], &p.tangent[e]
		var rate [points]float64
		for j := range points {
			rate[j] = momentRate(at.sin[j], at.cos[j], fx, fy+gravity*el.beyond[j])
		}
		after := m - el.h*weighted(&rate)
		m = after + sh.offsetMoment(e)
		sh.setSides(e, m, after)
	}
}

// momentRate is M′ where the rod points along (cos, sin) and bears the force
// (fx, fy) from beyond.
func momentRate(sin, cos, fx, fy float64) float64 { return sin*fx - cos*fy }

// offsetMoment is that of the point masses at a node: n×(0, g·m·h), where n =
// (−sin θ, cos θ).
func (sh *Shape) offsetMoment(i int) float64 {
	return -math.Sin(sh.Turn[i]) * sh.Load.gravity() * sh.rod.moment[i]
}

func (sh *Shape) setSides(i int, before, after float64) {
	elements := sh.rod.elements
	first, last := i == 0, i == len(elements)
	if first {
		before = after
	}
	sh.Moment[i] = Sides{before, after}
	switch {
	case first:
		k := after / elements[0].eiStart
		sh.Curvature[i] = Sides{k, k}
	case last:
		k := before / elements[i-1].eiEnd
		sh.Curvature[i] = Sides{k, k}
	default:
		sh.Curvature[i] = Sides{before / elements[i-1].eiEnd, after / elements[i].eiStart}
	}
}

// At is the point of the rod at s, between the nodes by cubics of the same
// order of accuracy as the nodes. Places off the rod give its ends; at a jump
// it is the side of the tip.
func (sh *Shape) At(s float64) Point {
	e, s := sh.elementAt(s)
	el := &sh.rod.elements[e]
	u := (s - sh.S[e]) / el.h
	sin0, cos0 := math.Sincos(sh.Turn[e])
	sin1, cos1 := math.Sincos(sh.Turn[e+1])
	return Point{
		S: s, Turn: sh.turnIn(e, s), Curvature: sh.momentOn(e).at(s) / sh.rod.pieces[el.piece].EI(s),
		X: hermite(u, el.h, sh.X[e], cos0, sh.X[e+1], cos1),
		Y: hermite(u, el.h, sh.Y[e], sin0, sh.Y[e+1], sin1),
	}
}

// TurnAt is the turn of At(s).
func (sh *Shape) TurnAt(s float64) float64 { return sh.turnIn(sh.elementAt(s)) }

// MomentAt is the moment of At(s).
func (sh *Shape) MomentAt(s float64) float64 {
	e, s := sh.elementAt(s)
	return sh.momentOn(e).at(s)
}

// Moments puts the moment of At at every place in place of it; places rise.
func (sh *Shape) Moments(places []float64) {
	e, moment := -1, cubic{}
	for i, s := range places {
		if e < 0 || s >= sh.S[e+1] {
			e, s = sh.elementAt(s)
			moment = sh.momentOn(e)
		}
		places[i] = moment.at(s)
	}
}

// momentOn is the moment on element e.
func (sh *Shape) momentOn(e int) cubic {
	h := sh.rod.elements[e].h
	fx, fy := sh.Load.components()
	gravity := sh.Load.gravity()
	x0, y0 := fx, fy+gravity*sh.rod.beyond[e]
	x1, y1 := fx, fy+gravity*(sh.rod.beyond[e+1]+sh.rod.mass[e+1])
	if sh.linePull != nil {
		pull0, pull1 := sh.linePull[e].after, sh.linePull[e+1].before
		x0, y0, x1, y1 = x0+pull0.x, y0+pull0.y, x1+pull1.x, y1+pull1.y
	}
	sin0, cos0 := math.Sincos(sh.Turn[e])
	sin1, cos1 := math.Sincos(sh.Turn[e+1])
	return cubic{
		sh.S[e], h,
		sh.Moment[e].After, momentRate(sin0, cos0, x0, y0),
		sh.Moment[e+1].Before, momentRate(sin1, cos1, x1, y1),
	}
}

// turnIn is the turn at s in element e.
func (sh *Shape) turnIn(e int, s float64) float64 {
	h := sh.S[e+1] - sh.S[e]
	return hermite((s-sh.S[e])/h, h, sh.Turn[e], sh.Curvature[e].After, sh.Turn[e+1], sh.Curvature[e+1].Before)
}

// elementAt is the element that s lies in, the one after where it is a node, and
// s itself or the end of the rod that it lies beyond.
func (sh *Shape) elementAt(s float64) (int, float64) {
	s = max(0, min(s, sh.S[len(sh.S)-1]))
	i, at := slices.BinarySearch(sh.S, s)
	if !at {
		i--
	}
	return min(i, len(sh.rod.elements)-1), s
}
