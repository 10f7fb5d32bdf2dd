package evaluate

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// TestLeastSquaresByHand holds small problems against what a sketch gives.
func TestLeastSquaresByHand(t *testing.T) {
	// The distance from (3, 1), squared and halved.
	h, g := mat.NewSymDense(2, []float64{1, 0, 0, 1}), mat.NewVecDense(2, []float64{-3, -1})
	for _, row := range []struct {
		name    string
		limits  []atLeast
		want    [2]float64
		holding []bool
	}{
		{"no limit", nil, [2]float64{3, 1}, nil},
		{"one that does not matter", []atLeast{{[]float64{1, 0}, 2}}, [2]float64{3, 1}, []bool{false}},
		{"x at most 2", []atLeast{{[]float64{-1, 0}, -2}}, [2]float64{2, 1}, []bool{true}},
		{"x + y at most 2", []atLeast{{[]float64{-1, -1}, -2}}, [2]float64{2, 0}, []bool{true}},
		{"and y at least 1", []atLeast{{[]float64{-1, -1}, -2}, {[]float64{0, 1}, 1}}, [2]float64{1, 1}, []bool{true, true}},
		{"the same one twice", []atLeast{{[]float64{-1, 0}, -2}, {[]float64{-2, 0}, -4}}, [2]float64{2, 1}, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			x, u, err := leastSquares(h, g, row.limits)
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

func TestLeastSquaresWithoutAnswer(t *testing.T) {
	one := mat.NewSymDense(1, []float64{1})
	_, _, err := leastSquares(one, mat.NewVecDense(1, nil), []atLeast{{[]float64{1}, 2}, {[]float64{-1}, -1}})
	if !errors.Is(err, errIncompatible) {
		t.Errorf("x at least 2 and at most 1 gives %v", err)
	}
}

// TestLeastSquaresIsOptimal checks random problems by the conditions that are
// necessary and sufficient for the optimum of a convex one (Karush, Kuhn and
// Tucker; Nocedal and Wright 2006, Numerical Optimization, theorem 16.4, from
// memory).
func TestLeastSquaresIsOptimal(t *testing.T) {
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
		inside := rapid.SliceOfN(entry, n, n).Draw(t, "a place that keeps to the limits")
		limits := make([]atLeast, rapid.IntRange(0, 12).Draw(t, "limits"))
		for i := range limits {
			c := atLeast{row: rapid.SliceOfN(entry, n, n).Draw(t, "row")}
			c.row[i%n] += 3 // a limit on nothing is none
			c.bound = c.value(inside) - rapid.Float64Range(0, 1).Draw(t, "room")
			limits[i] = c
		}
		x, u, err := leastSquares(&h, g, limits)
		if err != nil {
			t.Fatal(err)
		}
		const tolerance = 1e-6 // curvatures and coefficients are of order one
		rest := mat.NewVecDense(n, nil)
		rest.MulVec(&h, mat.NewVecDense(n, x))
		rest.AddVec(rest, g)
		for i, c := range limits {
			slack := c.value(x) - c.bound
			if slack < -tolerance || u[i] < 0 || u[i]*slack > tolerance*(1+u[i]) {
				t.Errorf("limit %d: %g is left of it, with the multiplier %g", i, slack, u[i])
			}
			rest.AddScaledVec(rest, -u[i], mat.NewVecDense(n, c.row))
		}
		if miss := mat.Norm(rest, math.Inf(1)); miss > tolerance*(1+sum(u)) {
			t.Errorf("the slope is out of balance by %g", miss)
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
