package laminate_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"rodlore/evaluate/laminate"
)

// This file solves the layered tube in three-dimensional elasticity, without
// any assumption of thin-wall or lamination theory: displacements are exact
// harmonics round the tube and quadratic finite elements through the wall. It
// is the problem that Lekhnitskii (1963, "Theory of Elasticity of an
// Anisotropic Elastic Body", chapter on the bending of a curvilinearly
// anisotropic tube; from memory) solves in closed form for one layer.

// layer is a homogeneous ring of a tube.
type layer struct {
	lamina       laminate.Lamina
	angle        float64
	inner, outer float64 // radii, m
}

// Strains in solid: axial, hoop, radial, axial–hoop, hoop–radial, axial–radial.
type solidStrains [6]float64

// field is one unknown displacement amplitude: the strains that its value and
// its derivative cause at radius r.
type field struct {
	value, slope func(r float64) solidStrains
}

// crossRatio is Poisson's ratio in the plane across the fibres. Lamination
// theory has no use for it, so it has to be assumed: 0.4 is that of both
// laminae (Soden, Hinton and Kaddour 1998; from memory).
const crossRatio = 0.4

// solid gives the 6×6 stiffness of a transversely isotropic lamina turned by
// angle about the radius.
func solid(t *testing.T, l laminate.Lamina, angle float64) *mat.Dense {
	t.Helper()
	s := mat.NewDense(3, 3, []float64{
		1 / l.E1, -l.Nu12 / l.E1, -l.Nu12 / l.E1,
		-l.Nu12 / l.E1, 1 / l.E2, -crossRatio / l.E2,
		-l.Nu12 / l.E1, -crossRatio / l.E2, 1 / l.E2,
	})
	var own mat.Dense
	if err := own.Inverse(s); err != nil {
		t.Fatal(err)
	}
	c := mat.NewDense(6, 6, nil)
	c.Slice(0, 3, 0, 3).(*mat.Dense).Copy(&own)
	c.Set(3, 3, l.G12)
	c.Set(4, 4, l.E2/(2*(1+crossRatio)))
	c.Set(5, 5, l.G12)

	// Strains in the lamina's axes from strains in the tube's.
	sin, cos := math.Sincos(angle)
	turn := mat.NewDense(6, 6, []float64{
		cos * cos, sin * sin, 0, sin * cos, 0, 0,
		sin * sin, cos * cos, 0, -sin * cos, 0, 0,
		0, 0, 1, 0, 0, 0,
		-2 * sin * cos, 2 * sin * cos, 0, cos*cos - sin*sin, 0, 0,
		0, 0, 0, 0, cos, -sin,
		0, 0, 0, 0, sin, cos,
	})
	var half, full mat.Dense
	half.Mul(turn.T(), c)
	full.Mul(&half, turn)
	return &full
}

// solve gives the stiffness of the tube against each of the prescribed strain
// states, and between them, all fields having settled at least energy.
func solve(t *testing.T, layers []layer, fields []field, prescribed []func(r float64) solidStrains) *mat.Dense {
	t.Helper()
	const perLayer = 6
	nodes := 2*perLayer*len(layers) + 1
	free := nodes * len(fields)
	n := free + len(prescribed)
	k := mat.NewDense(n, n, nil)
	for i, l := range layers {
		c := solid(t, l.lamina, l.angle)
		h := (l.outer - l.inner) / perLayer
		for e := range perLayer {
			first := 2 * (i*perLayer + e)
			addElement(k, c, l.inner+float64(e)*h, h, first, free, fields, prescribed)
		}
	}
	if len(fields) > 1 {
		// Shifting the whole tube sideways costs nothing, so a spring to the
		// ground at one place takes no force and makes the matrix regular.
		k.Set(1, 1, 2*k.At(1, 1))
	}
	kff, kfp := k.Slice(0, free, 0, free), k.Slice(0, free, free, n)
	var settled, given, taken mat.Dense
	if err := settled.Solve(kff, kfp); err != nil {
		t.Fatal(err)
	}
	taken.Mul(kfp.T(), &settled)
	given.Sub(k.Slice(free, n, free, n), &taken)
	return &given
}

// addElement adds one quadratic element by three-point Gauss integration.
func addElement(k, c *mat.Dense, start, h float64, first, free int, fields []field, prescribed []func(r float64) solidStrains) {
	m := len(fields)
	columns := 3*m + len(prescribed)
	index := func(j int) int {
		if j < 3*m {
			return first*m + j
		}
		return free + j - 3*m
	}
	for _, g := range [][2]float64{{-math.Sqrt(0.6), 5. / 9}, {0, 8. / 9}, {math.Sqrt(0.6), 5. / 9}} {
		x := g[0]
		r := start + h*(1+x)/2
		value := [3]float64{x * (x - 1) / 2, 1 - x*x, x * (x + 1) / 2}
		slope := [3]float64{(2*x - 1) / h, -4 * x / h, (2*x + 1) / h}
		b := mat.NewDense(6, columns, nil)
		for node := range 3 {
			for f, field := range fields {
				v, s := field.value(r), field.slope(r)
				for row := range v {
					b.Set(row, node*m+f, v[row]*value[node]+s[row]*slope[node])
				}
			}
		}
		for p, strain := range prescribed {
			e := strain(r)
			b.SetCol(3*m+p, e[:])
		}
		var cb, bcb mat.Dense
		cb.Mul(c, b)
		bcb.Mul(b.T(), &cb)
		weight := g[1] * h / 2 * r
		for i := range columns {
			for j := range columns {
				k.Set(index(i), index(j), k.At(index(i), index(j))+weight*bcb.At(i, j))
			}
		}
	}
}

// bendingStiffness: u_r = U sin θ, u_θ = V cos θ, u_x = κxr sin θ + W cos θ.
func bendingStiffness(t *testing.T, layers []layer) float64 {
	t.Helper()
	fields := []field{
		{func(r float64) solidStrains { return solidStrains{1: 1 / r, 4: 1 / r} },
			func(float64) solidStrains { return solidStrains{2: 1} }},
		{func(r float64) solidStrains { return solidStrains{1: -1 / r, 4: -1 / r} },
			func(float64) solidStrains { return solidStrains{4: 1} }},
		{func(r float64) solidStrains { return solidStrains{3: -1 / r} },
			func(float64) solidStrains { return solidStrains{5: 1} }},
	}
	curvature := func(r float64) solidStrains { return solidStrains{0: r} }
	k := solve(t, layers, fields, []func(float64) solidStrains{curvature})
	return math.Pi * k.At(0, 0)
}

// axisStiffness gives EA free to twist and GJ free to stretch: u_r = U.
func axisStiffness(t *testing.T, layers []layer) (ea, gj float64) {
	t.Helper()
	fields := []field{{
		func(r float64) solidStrains { return solidStrains{1: 1 / r} },
		func(float64) solidStrains { return solidStrains{2: 1} },
	}}
	k := solve(t, layers, fields, []func(float64) solidStrains{
		func(float64) solidStrains { return solidStrains{0: 1} },
		func(r float64) solidStrains { return solidStrains{3: r} },
	})
	coupling := k.At(0, 1) * k.At(0, 1)
	return 2 * math.Pi * (k.At(0, 0) - coupling/k.At(1, 1)), 2 * math.Pi * (k.At(1, 1) - coupling/k.At(0, 0))
}

// build gives the same tube to both theories: one wrap a layer.
func build(t *testing.T, l laminate.Lamina, inside float64, degrees ...float64) ([]layer, []laminate.Ply) {
	t.Helper()
	var layers []layer
	var plies []laminate.Ply
	r := inside / 2
	for _, d := range degrees {
		angle := d * math.Pi / 180
		layers = append(layers, layer{l, angle, r, r + l.Thickness})
		r += l.Thickness
		plies = append(plies, lay(t, l, angle, 1))
	}
	return layers, plies
}

// Tubes of carbon rods against elasticity in three dimensions: a wall of 1 mm
// on the bore of a butt and on that of a thin tip. Tolerances are the largest
// errors seen over the angles, rounded up: the package documentation gives them.
func TestElasticity(t *testing.T) {
	for _, c := range []struct {
		name      string
		layup     func(a float64) []float64
		butt, tip float64 // tolerance on bores of 10 and 2 mm
	}{
		{"along", func(float64) []float64 { return []float64{0, 0, 0, 0, 0, 0, 0, 0} }, 1e-9, 1e-9}, // both are exact
		{"hoop inside", func(float64) []float64 { return []float64{90, 0, 0, 0, 0, 0, 0, 0} }, 0.0015, 0.004},
		{"hoop outside", func(float64) []float64 { return []float64{0, 0, 0, 0, 0, 0, 0, 90} }, 0.0015, 0.004},
		{"hoops on both sides", func(float64) []float64 { return []float64{90, 0, 0, 0, 0, 0, 0, 90} }, 0.0015, 0.004},
		{"both hands inside", func(a float64) []float64 { return []float64{a, -a, 0, 0, 0, 0, 0, 0} }, 0.004, 0.02},
		{"both hands outside", func(a float64) []float64 { return []float64{0, 0, 0, 0, 0, 0, a, -a} }, 0.004, 0.02},
		{"both hands throughout", func(a float64) []float64 { return []float64{a, -a, a, -a, a, -a, a, -a} }, 0.005, 0.04},
		{"one hand outside", func(a float64) []float64 { return []float64{0, 0, 0, 0, 0, 0, a, a} }, 0.025, 0.09},
		{"one hand throughout", func(a float64) []float64 { return []float64{a, a, a, a, a, a, a, a} }, 0.035, 0.25},
	} {
		t.Run(c.name, func(t *testing.T) {
			for angle := 10.; angle < 90; angle += 10 {
				againstElasticity(t, 10e-3, c.layup(angle), c.butt)
				againstElasticity(t, 2e-3, c.layup(angle), c.tip)
			}
		})
	}
}

func againstElasticity(t *testing.T, inside float64, degrees []float64, tol float64) {
	t.Helper()
	layers, plies := build(t, as4, inside, degrees...)
	got := roll(t, inside, plies)
	ea, gj := axisStiffness(t, layers)
	where := fmt.Sprintf(" of %v on %v m", degrees, inside)
	near(t, "EI"+where, got.EI, bendingStiffness(t, layers), tol)
	near(t, "EA"+where, got.EA, ea, tol)
	near(t, "GJ"+where, got.GJ, gj, tol)
}

// The reason for the common contraction: plies at ±20° that hold each other
// are a fifth stiffer than the same plies left alone, which is what the rule
// of mixtures adds up.
func TestElasticityRulesOutIsolatedPlies(t *testing.T) {
	layers, plies := build(t, as4, 10e-3, 20, -20, 20, -20, 20, -20, 20, -20)
	exact := bendingStiffness(t, layers)
	isolated, _ := isolated(t, 10e-3, plies)
	if isolated > 0.8*exact {
		t.Errorf("isolated plies give %v N·m², elasticity %v: expected a fifth less or lower", isolated, exact)
	}
	near(t, "common contraction", roll(t, 10e-3, plies).EI, exact, 0.004)
}
