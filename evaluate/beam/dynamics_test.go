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
	r, err := NewRod([]Piece{{To: length, EI: constant(ei), Mu: constant(mu)}}, nil, elements)
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

// TestRestIsTheBend compares the rest before a cast, butt level, with the bend
// under the same weight, and the moments on a first step that leads nowhere.
func TestRestIsTheBend(t *testing.T) {
	r := cone(t, 24)
	for _, lead := range []float64{0, 0.05, 0.5} {
		t.Run(fmt.Sprintf("%g kg", lead), func(t *testing.T) {
			want, err := NewSolver(r).Bend(Load{Force: lead * Gravity, Direction: math.Pi / 2, Weight: true})
			if err != nil {
				t.Fatal(err)
			}
			m := newMotion(r)
			if lead > 0 {
				m.tether = tether{mass: lead, drop: 0.8, stiffness: 500}
			}
			if !m.settle(0) {
				t.Fatal("no rest")
			}
			advance(t, m, 1e-3, 0)
			for i := range want.S {
				// The bends count y and turns downwards.
				within(t, "x", m.was.node[i].x, want.X[i], 1e-10)
				within(t, "y", m.was.node[i].y, -want.Y[i], 1e-10)
				within(t, "turn", m.was.turn[i], -want.Turn[i], 1e-10)
				within(t, "moment", m.moment[i], -want.Moment[i].Before, 1e-8)
			}
		})
	}
}

// TestMomentumIsTheHands compares the impulse of the hand and of gravity with
// the momentum, and their moment about the hand with the moment of momentum,
// at the end of half a turn without lead. The step keeps the first exactly.
func TestMomentumIsTheHands(t *testing.T) {
	m := newMotion(cone(t, 16))
	m.arm = 0.5
	m.settle(180 * degree)
	c := Cast{From: 180 * degree, To: 0, Time: 0.6}
	const step = 1e-3
	var impulse vector
	twist := 0.0
	weight := vector{0, -m.gravity * m.rod.Mass()}
	for i := range 500 {
		if !m.try(step, c.butt(float64(i+1)*step)) {
			t.Fatal("no motion")
		}
		before, after := m.was.node[0], m.now.node[0]
		first := firstMoment(m)
		m.accept()
		first = first.plus(firstMoment(m)).times(0.5)
		impulse = impulse.plus(m.hand.plus(weight).times(step))
		twist += step * (before.plus(after).times(0.5).cross(m.hand) - m.moment[0] - m.gravity*first.x)
	}
	momentum, angular := vector{}, 0.0
	m.eachPoint(func(mass float64, at, speed vector) {
		momentum = momentum.plus(speed.times(mass))
		angular += mass * at.cross(speed)
	})
	size := momentum.length()
	within(t, "momentum along x", impulse.x, momentum.x, 1e-9*size)
	within(t, "momentum along y", impulse.y, momentum.y, 1e-9*size)
	// The mean of two directions is shorter than one, by the square of half
	// the turn in a step.
	within(t, "moment of momentum", twist, angular, 1e-4*math.Abs(angular))
}

// firstMoment is ∑ m·r of the rod.
func firstMoment(m *motion) (sum vector) {
	m.eachPoint(func(mass float64, at, _ vector) { sum = sum.plus(at.times(mass)) })
	return sum
}

// whipped is the tip's place late in a fast arc of the butt.
func whipped(t *testing.T, r *Rod, lead, step float64) vector {
	t.Helper()
	m := newMotion(r)
	m.arm, m.viscosity = 0.5, 2e-3 // some 2 % in the first mode
	if lead > 0 {
		m.tether = tether{mass: lead, drop: 0.8, stiffness: 100}
	}
	m.settle(150 * degree)
	c := Cast{From: 150 * degree, To: 30 * degree, Time: 1}
	for i := range int(0.8/step + 0.5) {
		advance(t, m, step, c.butt(float64(i+1)*step))
	}
	return m.was.node[len(m.was.node)-1]
}

func TestStepsConvergeWithTheSquare(t *testing.T) {
	r := cone(t, 12)
	for _, lead := range []float64{0, 0.02} {
		t.Run(fmt.Sprintf("%g kg", lead), func(t *testing.T) {
			var places []vector
			for _, step := range []float64{4e-3, 2e-3, 1e-3, 5e-4, 2.5e-4} {
				places = append(places, whipped(t, r, lead, step))
			}
			for i := 2; i < len(places); i++ {
				a, b := places[i-1].minus(places[i-2]).length(), places[i].minus(places[i-1]).length()
				within(t, "order", math.Log2(a/b), 2, 0.15)
			}
		})
	}
}

func TestElementsConvergeWithTheFourthPower(t *testing.T) {
	var places []vector
	for _, elements := range []int{12, 24, 48, 96} {
		places = append(places, whipped(t, cone(t, elements), 0.02, 2e-3))
	}
	for i := 2; i < len(places); i++ {
		a, b := places[i-1].minus(places[i-2]).length(), places[i].minus(places[i-1]).length()
		within(t, "order", math.Log2(a/b), 4, 0.15)
	}
}

// TestCurvatureLeavesTheViscousMomentOut compares the curvature that is watched
// in a well-damped whip, moment over stiffness less the viscous part, with the
// slope of the turns.
func TestCurvatureLeavesTheViscousMomentOut(t *testing.T) {
	r := uniform(t, 3, 12, 0.04, 48)
	m := newMotion(r)
	m.arm, m.viscosity = 0.5, 0.02
	m.settle(150 * degree)
	c := Cast{From: 150 * degree, To: 30 * degree, Time: 0.8}
	var seen Flight
	var slope Peak
	const step = 1e-3
	for i := 1; i <= 700; i++ {
		time := float64(i) * step
		if !m.try(step, c.butt(time)) {
			t.Fatal("no motion")
		}
		for e := range r.elements {
			mean := (m.now.turn[e+1] - m.now.turn[e] + m.was.turn[e+1] - m.was.turn[e]) / 2
			mean += 2 * (m.now.bubble[e] + m.was.bubble[e]) // 4·b/h at the element's start
			slope.keep(mean/r.elements[e].h, r.nodes[e], time-step/2)
		}
		m.accept()
		seen.watch(m, time)
	}
	// The slope of the turns is an order less accurate than they are.
	within(t, "curvature", seen.Curvature.Value, slope.Value, 2e-3*math.Abs(slope.Value))
	within(t, "its place", seen.Curvature.S, slope.S, 1e-9)
	within(t, "its time", seen.Curvature.Time, slope.Time, step)
	if viscous := math.Abs(seen.Moment.Value/12 - slope.Value); viscous < 2e-2*math.Abs(slope.Value) {
		t.Errorf("the viscous part is too small to tell: %g 1/m", viscous)
	}
}
