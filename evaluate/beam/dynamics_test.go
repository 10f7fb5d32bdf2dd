package beam

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"
)

// within fails the test where got is further from want than tolerance.
func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.12g, want %.12g within %g (off by %.3g)", what, got, want, tolerance, got-want)
	}
}

// uniform is a rod of constant stiffness and mass.
func uniform(t testing.TB, length, ei, mu float64, elements int) *Rod {
	t.Helper()
	constant := func(v float64) func(float64) float64 { return func(float64) float64 { return v } }
	r, err := NewRod([]Piece{{0, length, constant(ei), constant(mu)}}, nil, elements)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// advance takes one step that must succeed.
func advance(t testing.TB, m *motion, step, butt float64) {
	t.Helper()
	if !m.try(step, butt) {
		t.Fatalf("no motion in a step of %g s", step)
	}
	m.accept()
}

// TestLeadSwingsAsPendulum lets the lead swing from the tip of a rod too stiff
// to follow. The period of the mathematical pendulum is 4√(l/g)·K(sin²(α/2))
// for an amplitude α, and 2π√(l/g) for a small one.
func TestLeadSwingsAsPendulum(t *testing.T) {
	for _, amplitude := range []float64{1 * degree, 30 * degree, 90 * degree} {
		t.Run(fmt.Sprintf("%.0f degrees", amplitude/degree), func(t *testing.T) {
			m := newMotion(uniform(t, 1, 1e7, 0.1, 2))
			m.tether = tether{mass: 0.1, drop: 0.8, stiffness: 1e7}
			if !m.settle(0) {
				t.Fatal("no rest")
			}
			tip := m.was.node[len(m.was.node)-1]
			m.was.lead = tip.plus(vector{math.Sin(amplitude), -math.Cos(amplitude)}.times(0.8))
			const step = 1e-3
			var passages []float64
			for i := range 4000 {
				before := m.was.lead.x - tip.x
				advance(t, m, step, 0)
				if after := m.was.lead.x - tip.x; before*after < 0 {
					passages = append(passages, step*(float64(i)+before/(before-after)))
				}
			}
			last := len(passages) - 1
			k := math.Sin(amplitude / 2)
			want := 4 * math.Sqrt(0.8/Gravity) * mathext.CompleteK(k*k)
			// The steps lengthen the period by (ωh)²/12 to (ωh)²/8, a millionth;
			// under the larger swings the line gives by a millionth too.
			within(t, "period", 2*(passages[last]-passages[0])/float64(last), want, 5e-6*want)
		})
	}
}

// shake turns the butt of a rod without weight by a small arc in a quintic of
// time, and gives the tip's bend, as its distance from the butt's line, at
// every step.
func shake(t *testing.T, r *Rod, arc, arm, time, step, until float64) (bend []float64) {
	t.Helper()
	m := newMotion(r)
	m.arm, m.gravity = arm, 0
	m.settle(0)
	c := Cast{From: 0, To: arc, Time: time}
	for i := 1; i <= int(until/step+0.5); i++ {
		butt := c.butt(float64(i) * step)
		advance(t, m, step, butt)
		tip := m.was.node[len(m.was.node)-1]
		bend = append(bend, tip.dot(direction(butt).left()))
	}
	return bend
}

// duhamel is the response q of q″ + ω²q = −Γψ″ from rest, where ψ turns by the
// arc in a quintic of time, exactly: with ψ″ a cubic, ψ″/ω² − ψ⁗/ω⁴ solves it
// up to a free swing.
func duhamel(omega, gamma, arc, time, t float64) float64 {
	second := func(u float64) float64 { return arc / (time * time) * u * (60 + u*(-180+u*120)) }
	fourth := func(u float64) float64 { return arc / math.Pow(time, 4) * (-360 + u*720) }
	third := func(u float64) float64 { return arc / math.Pow(time, 3) * (60 + u*(-360+u*360)) }
	const w = 720
	fifth := arc / math.Pow(time, 5) * w
	forced := func(u float64) float64 { return -gamma * (second(u)/(omega*omega) - fourth(u)/math.Pow(omega, 4)) }
	rate := func(u float64) float64 { return -gamma * (third(u)/(omega*omega) - fifth/math.Pow(omega, 4)) }
	swing := func(q, v, t float64) (float64, float64) {
		sin, cos := math.Sincos(omega * t)
		return q*cos + v/omega*sin, v*cos - q*omega*sin
	}
	during := min(t, time)
	q, v := swing(-forced(0), -rate(0), during)
	q, v = q+forced(during/time), v+rate(during/time)
	q, _ = swing(q, v, t-during)
	return q
}

// TestSmallCastAgainstModes compares a small shake with the superposition of
// the modes of the eigenvalue problem, each driven by the base's turn about
// the hand (Clough and Penzien 1975, Dynamics of Structures, chapter 27, cited
// from memory: excitation factor Γ = ∫μφ(s + arm)ds / ∫μφ²ds).
func TestSmallCastAgainstModes(t *testing.T) {
	const length, arm, arc, time, until = 3.0, 0.6, 1e-3, 0.3, 1.2
	r := uniform(t, length, 12, 0.04, 40)
	modes, err := r.Modes(6)
	if err != nil {
		t.Fatal(err)
	}
	gamma := make([]float64, len(modes))
	for k, mode := range modes {
		for i := 1; i < len(mode.S); i++ { // trapezia on a fine mesh
			h := mode.S[i] - mode.S[i-1]
			gamma[k] += h / 2 * 0.04 / mode.ModalMass * (mode.Shape[i]*(arm+mode.S[i]) + mode.Shape[i-1]*(arm+mode.S[i-1]))
		}
	}
	const step = 5e-4
	bend := shake(t, r, arc, arm, time, step, until)
	largest, worst := 0.0, 0.0
	for i, got := range bend {
		at, want := float64(i+1)*step, 0.0
		for k, mode := range modes {
			want += duhamel(2*math.Pi*mode.Frequency, gamma[k], arc, time, at)
		}
		largest, worst = max(largest, math.Abs(want)), max(worst, math.Abs(got-want))
	}
	if largest < 1e-3*arc*length {
		t.Fatalf("the rod hardly bends (%g m)", largest)
	}
	// Trapezia, six modes and the steps each leave some 1e-4.
	within(t, "worst difference of the tip over the largest bend", worst/largest, 0, 1e-3)
}
