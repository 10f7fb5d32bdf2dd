package optim

import (
	"errors"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// TestQuadraticByHand holds small problems against what a sketch gives.
func TestQuadraticByHand(t *testing.T) {
	// The distance from (3, 1), squared and halved.
	h, g := mat.NewSymDense(2, []float64{1, 0, 0, 1}), mat.NewVecDense(2, []float64{-3, -1})
	for _, row := range []struct {
		name    string
		limits  []AtLeast
		want    [2]float64
		holding []bool
	}{
		{"no limit", nil, [2]float64{3, 1}, nil},
		{"one that does not matter", []AtLeast{{[]float64{1, 0}, 2}}, [2]float64{3, 1}, []bool{false}},
		{"x at most 2", []AtLeast{{[]float64{-1, 0}, -2}}, [2]float64{2, 1}, []bool{true}},
		{"x + y at most 2", []AtLeast{{[]float64{-1, -1}, -2}}, [2]float64{2, 0}, []bool{true}},
		{"and y at least 1", []AtLeast{{[]float64{-1, -1}, -2}, {[]float64{0, 1}, 1}}, [2]float64{1, 1}, []bool{true, true}},
		{"the same one twice", []AtLeast{{[]float64{-1, 0}, -2}, {[]float64{-2, 0}, -4}}, [2]float64{2, 1}, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			x, u, err := Quadratic(h, g, row.limits)
			if err != nil {
				t.Fatal(err)
			}
			for i, want := range row.want {
				if math.Abs(x[i]-want) > 1e-12 {
					t.Errorf("x is %v, want %v", x, row.want)
				}
			}
			for i, want := range row.holding {
				if u[i] > 0 != want {
					t.Errorf("the multipliers are %v; holding should be %v", u, row.holding)
				}
			}
		})
	}
}

func TestQuadraticWithoutAnswer(t *testing.T) {
	one := mat.NewSymDense(1, []float64{1})
	_, _, err := Quadratic(one, mat.NewVecDense(1, nil), []AtLeast{{[]float64{1}, 2}, {[]float64{-1}, -1}})
	var excluded *IncompatibleError
	if !errors.As(err, &excluded) || !slices.Equal(excluded.Conflict, []int{0, 1}) {
		t.Errorf("x at least 2 and at most 1 gives %v", err)
	}
}

// TestQuadraticIsOptimal checks random problems by the conditions that are
// necessary and sufficient for the optimum of a convex one (Karush, Kuhn and
// Tucker; Nocedal and Wright 2006, Numerical Optimization, theorem 16.4, from
// memory).
func TestQuadraticIsOptimal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "unknowns")
		entry := rapid.Float64Range(-2, 2)
		a := mat.NewDense(n, n, rapid.SliceOfN(entry, n*n, n*n).Draw(t, "A"))
		var h mat.SymDense
		h.SymOuterK(1, a)
		for i := range n {
			h.SetSym(i, i, h.At(i, i)+0.1)
		}
		g := mat.NewVecDense(n, rapid.SliceOfN(entry, n, n).Draw(t, "g"))
		// Limits are parallel or not: where rows differ by rounding alone, no method
		// tells whether the room between them is rounding too.
		coarse := rapid.Map(rapid.IntRange(-128, 128), func(i int) float64 { return float64(i) / 64 })
		inside := rapid.SliceOfN(entry, n, n).Draw(t, "a place that keeps to the limits")
		limits := make([]AtLeast, rapid.IntRange(0, 12).Draw(t, "limits"))
		for i := range limits {
			c := AtLeast{Row: rapid.SliceOfN(coarse, n, n).Draw(t, "row")}
			c.Row[i%n] += 3 // a limit on nothing is none
			c.Bound = c.Value(inside) - math.Abs(coarse.Draw(t, "room"))
			limits[i] = c
		}
		x, u, err := Quadratic(&h, g, limits)
		if err != nil {
			t.Fatal(err)
		}
		const tolerance = 1e-8 // curvatures and coefficients are of order one
		rest := mat.NewVecDense(n, nil)
		rest.MulVec(&h, mat.NewVecDense(n, x))
		rest.AddVec(rest, g)
		for i, c := range limits {
			slack := c.Value(x) - c.Bound
			if slack < -tolerance || u[i] < 0 || u[i]*slack > tolerance*(1+u[i]) {
				t.Errorf("limit %d: %g is left of it, with the multiplier %g", i, slack, u[i])
			}
			rest.AddScaledVec(rest, -u[i], mat.NewVecDense(n, c.Row))
		}
		if miss := mat.Norm(rest, math.Inf(1)); miss > tolerance*(1+sum(u)) {
			t.Errorf("the slope is out of balance by %g", miss)
		}
	})
}

// TestQuadraticFindsContradictions makes random limits that miss each other by
// little. That they do is plain from Farkas' lemma: weighed by numbers above 0,
// the rows of those in conflict add up to nothing and their bounds to more. The
// others are left room by one point.
func TestQuadraticFindsContradictions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "unknowns")
		entry := rapid.Float64Range(-2, 2)
		inside := rapid.SliceOfN(entry, n, n).Draw(t, "a place")
		h := mat.NewSymDense(n, nil)
		for i := range n {
			h.SetSym(i, i, rapid.Float64Range(0.1, 100).Draw(t, "curvature"))
		}
		in := rapid.IntRange(1, n).Draw(t, "limits in conflict but one")
		last := AtLeast{Row: make([]float64, n), Bound: rapid.Float64Range(1e-6, 1e-3).Draw(t, "missed by")}
		var limits []AtLeast
		for i := range in {
			c := AtLeast{Row: rapid.SliceOfN(entry, n, n).Draw(t, "row")}
			c.Row[i] += 7 // they stand clear of each other
			c.Bound = c.Value(inside)
			share := rapid.Float64Range(0.2, 2).Draw(t, "share")
			for k, a := range c.Row {
				last.Row[k] -= share * a
			}
			last.Bound -= share * c.Bound
			limits = append(limits, c)
		}
		limits = append(limits, last, AtLeast{Row: limits[0].Row, Bound: limits[0].Bound - 1})
		_, _, err := Quadratic(h, mat.NewVecDense(n, rapid.SliceOfN(entry, n, n).Draw(t, "slope")), limits)
		var excluded *IncompatibleError
		if !errors.As(err, &excluded) {
			t.Fatalf("limits that exclude each other give %v", err)
		}
		want := make([]int, in+1)
		for i := range want {
			want[i] = i
		}
		if !slices.Equal(excluded.Conflict, want) {
			t.Errorf("%v are in conflict, want %v", excluded.Conflict, want)
		}
	})
}

func sum(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s
}

// TestQuadraticBetweenOpposedLimits has two limits that leave a ten-millionth of room
// between them and are parallel to the seventh digit: one is met while the other gives
// way, by rounding, before the step to it. A step back would be none that the dual
// method has, and gave multipliers far below 0.
func TestQuadraticBetweenOpposedLimits(t *testing.T) {
	var h mat.SymDense
	h.SymOuterK(1, mat.NewDense(2, 2, []float64{-0.25, 0, 0.75, -1.25}))
	for i := range 2 {
		h.SetSym(i, i, h.At(i, i)+0.1)
	}
	limits := []AtLeast{{[]float64{0.75, -1.25}, 1}, {[]float64{-0.75, 1.2500000368451811}, -1.000000119687929}}
	x, u, err := Quadratic(&h, mat.NewVecDense(2, []float64{3, 2}), limits)
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range limits {
		if slack := c.Value(x) - c.Bound; slack < -1e-8 || u[i] < 0 {
			t.Errorf("limit %d: %g is left of it, with the multiplier %g", i, slack, u[i])
		}
	}
}
