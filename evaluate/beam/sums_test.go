package beam

// What tests hold the mesh against: sums over it.

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

// Open is the work that the other entries do not explain.
func (a Account) Open() float64 {
	return a.Work - a.Rod - a.Lead - a.Bent - a.Line - a.Raised - a.Lost
}
