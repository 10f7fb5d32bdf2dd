package beam

// flexibility takes a deflection to the one that its inertia forces, μv along
// the rod and mv at the point masses, bend the rod to. A deflection is one
// slice: the values at the Gauss points, three an element, and then those at
// the nodes. Elements enter by their length only, so short ones cost no
// accuracy, as they would with a stiffness matrix.
type flexibility struct {
	rod    *Rod
	weight []float64 // mass that each value of a deflection stands for, kg
}

func newFlexibility(r *Rod) flexibility {
	n := len(r.elements)
	f := flexibility{r, make([]float64, points*n, points*n+n+1)}
	for e := range r.elements {
		for j := range points {
			f.weight[points*e+j] = gaussWeight[j] * r.elements[e].h * r.elements[e].mu[j]
		}
	}
	f.weight = append(f.weight, r.mass...)
	return f
}

// nodes are the values of a deflection at the nodes.
func (f *flexibility) nodes(v []float64) []float64 { return v[points*len(f.rod.elements):] }

// respond fills out with the response to v: shear and moment integrated from
// the tip, curvature and slope from the clamp, by the Gauss rule, which makes
// the operator symmetric in the mass to rounding.
func (f *flexibility) respond(v, out []float64) {
	f.bendingMoments(v, out)
	nodes := f.nodes(out)
	slope, w := 0.0, 0.0
	nodes[0] = 0
	for e := range f.rod.elements {
		el := &f.rod.elements[e]
		inside := (*[points]float64)(out[points*e:])
		var curvature, slopes [points]float64
		for j, moment := range inside {
			curvature[j] = moment / el.ei[j]
		}
		turns, turn := integral(&curvature)
		for j := range points {
			slopes[j] = slope + el.h*turns[j]
		}
		rises, rise := integral(&slopes)
		for j := range points {
			inside[j] = w + el.h*rises[j]
		}
		w += el.h * rise
		slope += el.h * turn
		nodes[e+1] = w
	}
}

// bendingMoments fills the Gauss points of out with the moment of the inertia
// forces of v.
func (f *flexibility) bendingMoments(v, out []float64) {
	nodes := f.nodes(v)
	shear, moment := 0.0, 0.0
	for e := len(f.rod.elements) - 1; e >= 0; e-- {
		el := &f.rod.elements[e]
		shear += f.rod.mass[e+1] * nodes[e+1]
		var force, shears [points]float64
		for j := range points {
			force[j] = el.mu[j] * v[points*e+j]
		}
		to, whole := integral(&force)
		for j := range points {
			shears[j] = shear + el.h*(whole-to[j])
		}
		to, mean := integral(&shears)
		for j := range points {
			out[points*e+j] = moment + el.h*(mean-to[j])
		}
		shear += el.h * whole
		moment += el.h * mean
	}
}
