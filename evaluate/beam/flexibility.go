package beam

// respond fills out with the deflection under the inertia forces of the
// deflection v: shear and moment are integrated from the tip, curvature and
// slope from the clamp, by the Gauss rule, which makes the operator symmetric
// in the mass to rounding. Elements enter by their length only, so short ones
// cost no accuracy, as they would with a stiffness matrix.
func (k *krylov) respond(v, out field) {
	k.bendingMoments(v, out)
	slope, w := 0.0, 0.0
	out.node[0] = 0
	for e := range k.rod.elements {
		el := &k.rod.elements[e]
		var curvature, slopes [points]float64
		for j := range points {
			curvature[j] = out.inside[e][j] / el.ei[j]
		}
		for j := range points {
			slopes[j] = slope + el.h*upTo(&curvature, j)
		}
		for j := range points {
			out.inside[e][j] = w + el.h*upTo(&slopes, j)
		}
		w += el.h * weighted(&slopes)
		slope += el.h * weighted(&curvature)
		out.node[e+1] = w
	}
}

// bendingMoments fills out.inside with the moment of the inertia forces.
func (k *krylov) bendingMoments(v, out field) {
	shear, moment := 0.0, 0.0
	for e := len(k.rod.elements) - 1; e >= 0; e-- {
		el := &k.rod.elements[e]
		shear += k.rod.mass[e+1] * v.node[e+1]
		var force, shears [points]float64
		for j := range points {
			force[j] = el.mu[j] * v.inside[e][j]
		}
		whole := weighted(&force)
		for j := range points {
			shears[j] = shear + el.h*(whole-upTo(&force, j))
		}
		mean := weighted(&shears)
		for j := range points {
			out.inside[e][j] = moment + el.h*(mean-upTo(&shears, j))
		}
		shear += el.h * whole
		moment += el.h * mean
	}
}

// product is ∫ μuv ds + ∑ muv.
func (k *krylov) product(u, v field) float64 {
	sum := 0.0
	for e := range k.rod.elements {
		el := &k.rod.elements[e]
		for j := range points {
			sum += gaussWeight[j] * el.h * el.mu[j] * u.inside[e][j] * v.inside[e][j]
		}
	}
	for i, m := range k.rod.mass {
		sum += m * u.node[i] * v.node[i]
	}
	return sum
}

func scaleField(v field, by float64) {
	for e := range v.inside {
		for j := range points {
			v.inside[e][j] *= by
		}
	}
	for i := range v.node {
		v.node[i] *= by
	}
}

func addField(v, u field, by float64) {
	for e := range v.inside {
		for j := range points {
			v.inside[e][j] += by * u.inside[e][j]
		}
	}
	for i := range v.node {
		v.node[i] += by * u.node[i]
	}
}
