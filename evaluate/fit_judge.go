package evaluate

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"gonum.org/v1/gonum/stat/distuv"

	"rodlore/evaluate/optim"
)

// falseAlarm is how many of the sheets without any wrong reading are said to
// have one.
const falseAlarm = 0.05

// FarthestOff is how many standard deviations the farthest of n readings lies off
// at most in all other sheets (Šidák 1967, J. Amer. Statist. Assoc. 62:626).
func FarthestOff(n int) float64 {
	each := 1 - math.Pow(1-falseAlarm, 1/float64(n))
	return distuv.UnitNormal.Quantile(1 - each/2)
}

// judge says how far every reading lies off what the others let expect, and
// which disagree. The farthest one is taken out and the rest looked at anew, as
// one wrong reading makes others look wrong (Baarda 1968, A Testing Procedure
// for Use in Geodetic Networks, chapter 4; from memory).
func (f *fitting) judge(fit *Fit, at *optim.Minimum) {
	moves := f.moves(at)
	// d is how far the readings lie off the spec, to first order about what
	// was found, and s what spec, tolerances and readings let it scatter.
	n := len(f.readings)
	var s mat.SymDense
	s.SymOuterK(1, moves)
	s.AddSym(&s, f.covariance)
	d := make([]float64, n)
	for i, r := range fit.Readings {
		d[i] = r.Value - r.After + mat.Dot(moves.RowView(i), mat.NewVecDense(len(at.X), at.X))
	}
	left := make([]int, n)
	for i := range left {
		left[i] = i
	}
	for slips := 0; slips <= mostSlips && len(left) > 0; slips++ {
		off, by := offs(&s, d, left)
		worst := 0
		for k, i := range left {
			if slips == 0 {
				fit.Readings[i].Off, fit.Readings[i].Rest = off[k], fit.Readings[i].Value-by[k]
			}
			if math.Abs(off[k]) > math.Abs(off[worst]) {
				worst = k
			}
		}
		if !(math.Abs(off[worst]) > fit.Threshold) {
			return
		}
		fit.Readings[left[worst]].Disagrees = true
		fit.Readings[left[worst]].Off, fit.Readings[left[worst]].Rest = off[worst], fit.Readings[left[worst]].Value-by[worst]
		left = slices.Delete(left, worst, worst+1)
	}
}

// mostSlips is how many readings of one sheet may be slips.
const mostSlips = 8

// Astray reports whether more readings disagree than slips explain.
func (fit *Fit) Astray() bool {
	n := 0
	for _, r := range fit.Readings {
		if r.Disagrees {
			n++
		}
	}
	return n > mostSlips || n > len(fit.Readings)/3
}

// moves is the Jacobian of the readings by the parameters, out of that of the
// residuals.
func (f *fitting) moves(at *optim.Minimum) *mat.Dense {
	n, k := len(f.readings), len(at.X)
	var moves mat.Dense
	moves.Mul(&f.root, at.Jacobian.Slice(0, n, 0, k))
	return &moves
}

// offs gives (S⁻¹d)ᵢ/√(S⁻¹)ᵢᵢ for some of the readings: how far each lies off
// its mean given all the others, in standard deviations, and by how much.
func offs(s *mat.SymDense, d []float64, some []int) (off, by []float64) {
	n := len(some)
	part, v := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for a, i := range some {
		v.SetVec(a, d[i])
		for b := a; b < n; b++ {
			part.SetSym(a, b, s.At(i, some[b]))
		}
	}
	off, by = make([]float64, n), make([]float64, n)
	var chol mat.Cholesky
	var inverse mat.SymDense
	if !chol.Factorize(part) || chol.InverseTo(&inverse) != nil {
		return off, by // never: the readings' own deviations keep it positive
	}
	v.MulVec(&inverse, v)
	for a := range off {
		off[a] = v.AtVec(a) / math.Sqrt(inverse.At(a, a))
		by[a] = v.AtVec(a) / inverse.At(a, a)
	}
	return off, by
}

func deviationAt(c *mat.SymDense, k int) float64 { return math.Sqrt(c.At(k, k)) }

// correlations lists those of every two parameters, the strongest first.
func correlations(c *mat.SymDense) []Correlation {
	var list []Correlation
	n := c.SymmetricDim()
	for a := range n {
		for b := a + 1; b < n; b++ {
			list = append(list, Correlation{a, b, c.At(a, b) / deviationAt(c, a) / deviationAt(c, b)})
		}
	}
	slices.SortStableFunc(list, func(x, y Correlation) int { return cmp.Compare(math.Abs(y.Value), math.Abs(x.Value)) })
	return list
}
