package evaluate

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// objective is what the layout makes small, worked out for places of the rings
// but the last, with its slope and the positive part of its curvature: the sum
// of
//
//   - 3(φ/φ̄)⁸/28 over the turns φ of the line in the rings, with their mean φ̄.
//     Of equal mean it is smallest where they are equal, and the eighth power
//     looks to the worst. Near there it curves as three squares;
//   - the square of the second differences of the spacings' logarithms, times
//     that of smoothness, halved. Turns hardly change when one spacing is made
//     longer and its neighbours shorter; this takes the smooth one of the
//     patterns that are about as even;
//   - where the rings stand on top, the square of how far the line would cut into
//     the blank's neighbourhood, in parts of the rings' height.
type objective struct {
	value float64
	slope *mat.VecDense
	curve *mat.SymDense
}

// eighth adds 3q⁸/28 of a q with that gradient. What q itself curves is left out
// so that the whole stays convex.
func (u *objective) eighth(q float64, gradient *mat.VecDense) {
	sixth := q * q * q * q * q * q
	u.value += 3. / 28 * sixth * q * q
	u.slope.AddScaledVec(u.slope, 6./7*sixth*q, gradient)
	u.curve.SymRankOne(u.curve, 6*sixth, gradient)
}

// square adds r²/2 of an r with that gradient.
func (u *objective) square(r float64, gradient *mat.VecDense) {
	u.value += r * r / 2
	u.slope.AddScaledVec(u.slope, r, gradient)
	u.curve.SymRankOne(u.curve, 1, gradient)
}

// objectiveAt works it out.
func (l *layout) objectiveAt(at []float64) objective {
	n := len(at) - 1
	u := objective{slope: mat.NewVecDense(n, nil), curve: mat.NewSymDense(n, nil)}
	for i := range n { // keeps the curvature positive where nothing else does
		u.curve.SetSym(i, i, 1e-6)
	}
	l.addTurns(&u, turnsIn(l.ringCentres(at)))
	l.addGrowth(&u, at)
	if l.rod.side() < 0 {
		l.addTouch(&u, at)
	}
	return u
}

// gradient is a vector over the places that move, of coefficients by ring. The
// tip ring, −1, and the last do not move.
func (l *layout) gradient(first int, coefficients ...float64) *mat.VecDense {
	v := mat.NewVecDense(len(l.at)-1, nil)
	for i, c := range coefficients {
		if ring := first + i; ring >= 0 && ring < v.Len() {
			v.SetVec(ring, v.AtVec(ring)+c)
		}
	}
	return v
}

// addTurns adds the turns against their mean.
func (l *layout) addTurns(u *objective, turns []turn) {
	n := float64(len(turns))
	mean, meanRate := 0.0, l.gradient(0)
	for i, t := range turns {
		mean += t.angle / n
		meanRate.AddScaledVec(meanRate, 1/n, l.gradient(i-1, t.rate[:]...))
	}
	for i, t := range turns {
		q := t.angle / mean
		rate := l.gradient(i-1, t.rate[:]...)
		rate.AddScaledVec(rate, -q, meanRate)
		rate.ScaleVec(1/mean, rate)
		u.eighth(q, rate)
	}
}

// smoothness is what an unsmooth spacing weighs. Whole, it would keep turns
// apart by a tenth that could be within a fiftieth.
const smoothness = 0.3

// addGrowth adds how unsmoothly the spacings grow.
func (l *layout) addGrowth(u *objective, at []float64) {
	d := slices.Clone(at)
	for i := len(d) - 1; i > 0; i-- {
		d[i] -= d[i-1]
	}
	const w = smoothness
	for i := range len(d) - 2 {
		a, b, c := d[i], d[i+1], d[i+2]
		u.square(w*math.Log(a*c/(b*b)), l.gradient(i-1, -w/a, w/a+2*w/b, -2*w/b-w/c, w/c))
	}
}

const (
	// offBlank is the part of the rings' height that the line is to keep off the
	// blank.
	offBlank = 0.1
	// touching is what it weighs when the line comes nearer by the rings' height.
	touching = 30
)

// addTouch adds what the line comes too near to the blank between two rings.
func (l *layout) addTouch(u *objective, at []float64) {
	before := 0.0
	for i, s := range at {
		a, b := l.height(i-1), l.height(i)
		scale := touching / ((a + b) / 2)
		near := func(from, to float64) float64 {
			return touching*offBlank - scale*l.clearance(from, a, to, b)
		}
		if r := near(before, s); r > 0 {
			const step = millimetre
			u.square(r, l.gradient(i-1, (near(before+step, s)-r)/step, (near(before, s+step)-r)/step))
		}
		before = s
	}
}
