package beam

// hessian is the second variation of the potential, factored. The bubble of
// an element meets nothing outside it, so it is eliminated there (static
// condensation); what is left couples neighbouring nodes only and factors as
// LDLᵀ. The energy has a minimum where all pivots, of bubbles and nodes, are
// positive (Sylvester's law of inertia).
type hessian struct {
	pivot    []float64 // D of the nodes; [0] belongs to the clamp and is not used
	inverse  []float64 // 1/D
	coupling []float64 // of an element's two nodes, overwritten by L
	bubble   []float64 // 1/D of the bubbles
	start    []float64 // coupling of bubble and start node over the bubble's pivot
	end      []float64 // the same of the end node
}

func newHessian(r *Rod) hessian {
	n := len(r.elements)
	return hessian{
		pivot: make([]float64, n+1), inverse: make([]float64, n+1), coupling: make([]float64, n),
		bubble: make([]float64, n), start: make([]float64, n), end: make([]float64, n),
	}
}

// factor says whether all pivots are positive. With convex set, the loads'
// part is left out wherever it would make the energy curve downwards: all
// pivots are then positive, and the step they give goes down in energy.
func (h *hessian) factor(r *Rod, p *potential, convex bool) (positive bool) {
	positive = h.condense(r, p, convex)
	h.coupling[0] = 0 // the clamp does not give
	for i := 1; i < len(h.pivot); i++ {
		coupling := h.coupling[i-1]
		h.coupling[i-1] = coupling * h.inverse[i-1]
		h.pivot[i] -= h.coupling[i-1] * coupling
		h.inverse[i] = 1 / h.pivot[i]
		positive = positive && h.pivot[i] > 0
	}
	return positive
}

// condense assembles the nodes' matrix, the bubbles eliminated.
func (h *hessian) condense(r *Rod, p *potential, convex bool) (positive bool) {
	positive = true
	for i, v := range p.knots {
		h.pivot[i] = kept(v, convex)
	}
	local := p.line.local
	for e := range r.elements {
		el := &r.elements[e]
		ss, se, ee := el.kEnds, -el.kEnds, el.kEnds
		sb, eb, bb := -el.kMixed, el.kMixed, el.kBubble
		for j, v := range p.tangent[e].along {
			v = kept(v, convex)
			ss += v * shapeStart[j] * shapeStart[j]
			se += v * shapeStart[j] * shapeEnd[j]
			ee += v * shapeEnd[j] * shapeEnd[j]
			sb += v * shapeStart[j] * shapeBubble[j]
			eb += v * shapeEnd[j] * shapeBubble[j]
			bb += v * shapeBubble[j] * shapeBubble[j]
		}
		for ; len(local) > 0 && local[0].element == e; local = local[1:] {
			v, w := kept(local[0].value, convex), &local[0].shape
			ss += v * w[0] * w[0]
			se += v * w[0] * w[1]
			ee += v * w[1] * w[1]
			sb += v * w[0] * w[2]
			eb += v * w[1] * w[2]
			bb += v * w[2] * w[2]
		}
		positive = positive && bb > 0
		inverse := 1 / bb
		h.bubble[e], h.start[e], h.end[e] = inverse, sb*inverse, eb*inverse
		h.pivot[e] += ss - h.start[e]*sb
		h.pivot[e+1] += ee - h.end[e]*eb
		h.coupling[e] = se - h.start[e]*eb
	}
	return positive
}

func kept(v float64, convex bool) float64 {
	if convex {
		return max(v, 0)
	}
	return v
}

// forward overwrites b, which has nothing before the first element, with L⁻¹b.
func (h *hessian) forward(b state, first int) {
	for e := first; e < len(b.bubble); e++ {
		b.turn[e] -= h.start[e] * b.bubble[e]
		b.turn[e+1] -= h.end[e] * b.bubble[e]
	}
	b.turn[0] = 0
	for i := first + 1; i < len(b.turn); i++ {
		b.turn[i] -= h.coupling[i-1] * b.turn[i-1]
	}
}

// back overwrites b with L⁻ᵀD⁻¹b.
func (h *hessian) back(b state) {
	last := len(b.turn) - 1
	b.turn[last] *= h.inverse[last]
	for i := last - 1; i >= 1; i-- {
		b.turn[i] = b.turn[i]*h.inverse[i] - h.coupling[i]*b.turn[i+1]
	}
	for e := range b.bubble {
		b.bubble[e] = b.bubble[e]*h.bubble[e] - h.start[e]*b.turn[e] - h.end[e]*b.turn[e+1]
	}
}
