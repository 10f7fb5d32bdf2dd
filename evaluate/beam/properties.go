package beam

import "slices"

// Length is the distance from the clamp to the tip along the rod, in m.
func (r *Rod) Length() float64 { return r.nodes[len(r.nodes)-1] }

// Nodes are the places of the element ends, in m from the clamp.
func (r *Rod) Nodes() []float64 { return slices.Clone(r.nodes) }

// Mass is that of the rod and its point masses, in kg.
func (r *Rod) Mass() float64 { return r.beyond[0] + r.mass[0] }

// Balance is the distance of the centre of mass of the straight rod from the
// clamp, in m. It is NaN for a rod without mass.
func (r *Rod) Balance() float64 {
	first := r.sumMass(func(s float64) float64 { return s })
	return first / r.Mass()
}

// Inertia is the moment of inertia of the straight rod about a cross axis at
// s, in kg·m². It leaves out the masses' distance from the centreline and
// their own inertia, as small as the square of the thickness to the length.
func (r *Rod) Inertia(about float64) float64 {
	return r.sumMass(func(s float64) float64 { return (s - about) * (s - about) })
}

// sumMass is ∫ μ·f ds + ∑ m·f, exact for a product of degree five.
func (r *Rod) sumMass(f func(s float64) float64) float64 {
	sum := 0.0
	for e := range r.elements {
		el := &r.elements[e]
		for j, at := range gaussAt {
			sum += gaussWeight[j] * el.h * el.mu[j] * f(r.nodes[e]+at*el.h)
		}
	}
	for i, m := range r.mass {
		sum += m * f(r.nodes[i])
	}
	return sum
}

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
