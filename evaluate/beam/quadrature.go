package beam

// points is the number of Gauss–Legendre points in an element. Three integrate
// a polynomial of degree five exactly: the mass, balance and inertia of a tube
// whose diameter and wall vary linearly, and the stiffness terms to well below
// the error of the element itself.
const points = 3

const root15 = 3.872983346207416885179265399782399611

var (
	// gaussAt and gaussWeight are the points and weights on (0, 1).
	gaussAt     = [points]float64{0.5 - root15/10, 0.5, 0.5 + root15/10}
	gaussWeight = [points]float64{5.0 / 18, 8.0 / 18, 5.0 / 18}

	// integrateTo[j][k] is the share of the value at point k in the integral
	// from the start to point j: the three-stage Gauss matrix of Butcher (1964,
	// Math. Comp. 18:50, table 1). The integrals from the points to the end are
	// adjoint to these under the weights, which keeps the flexibility of the
	// modes symmetric.
	integrateTo = [points][points]float64{
		{5.0 / 36, 2.0/9 - root15/15, 5.0/36 - root15/30},
		{5.0/36 + root15/24, 2.0 / 9, 5.0/36 - root15/24},
		{5.0/36 + root15/30, 2.0/9 + root15/15, 5.0 / 36},
	}

	// shapeStart, shapeEnd and shapeBubble are the element's shape functions
	// for the turn at the points: linear, linear and 4ξ(1−ξ).
	shapeStart, shapeEnd, shapeBubble = shapeFunctions()
)

func shapeFunctions() (start, end, bubble [points]float64) {
	for j, at := range gaussAt {
		start[j], end[j], bubble[j] = 1-at, at, 4*at*(1-at)
	}
	return start, end, bubble
}

// weighted is ∑ w·f, the mean of f over the element.
func weighted(f *[points]float64) float64 {
	return gaussWeight[0]*f[0] + gaussWeight[1]*f[1] + gaussWeight[2]*f[2]
}

// integral gives the integrals of f from the element's start to the points and
// to its end, per length.
func integral(f *[points]float64) (to [points]float64, whole float64) {
	for j := range to {
		a := &integrateTo[j]
		to[j] = a[0]*f[0] + a[1]*f[1] + a[2]*f[2]
	}
	return to, weighted(f)
}

// cubic is that of hermite on a stretch of that length from there on.
type cubic struct{ from, h, a, da, b, db float64 }

func (c cubic) at(s float64) float64 { return hermite((s-c.from)/c.h, c.h, c.a, c.da, c.b, c.db) }

// hermite is the cubic through the values a, b with the slopes da, db at the
// ends of a stretch of length h, at the share u of it.
func hermite(u, h, a, da, b, db float64) float64 {
	v := 1 - u
	return v*v*((1+2*u)*a+u*h*da) + u*u*((1+2*v)*b-v*h*db)
}
