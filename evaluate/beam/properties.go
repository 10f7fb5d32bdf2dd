package beam

import "slices"

// Length is the distance from the clamp to the tip along the rod, in m.
func (r *Rod) Length() float64 { return r.nodes[len(r.nodes)-1] }

// Nodes are the places of the element ends, in m from the clamp.
func (r *Rod) Nodes() []float64 { return slices.Clone(r.nodes) }

// Mass is that of the rod and its point masses, in kg.
func (r *Rod) Mass() float64 { return r.beyond[0] + r.mass[0] }

// TipStiffness is the force at the tip, square to the rod, for each metre it
// moves there, as long as it moves little: 1/∫(L−s)²/EI ds, in N/m.
func (r *Rod) TipStiffness() float64 {
	give, length := 0.0, r.Length()
	for e := range r.elements {
		el := &r.elements[e]
		for j, at := range gaussAt {
			arm := length - r.nodes[e] - at*el.h
			give += gaussWeight[j] * el.h * arm * arm / el.ei[j]
		}
	}
	return 1 / give
}
