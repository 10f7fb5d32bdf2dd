package beam_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"rodlore/evaluate/beam"
)

// plain is a rod of constant stiffness and mass.
func plain(t testing.TB, length, ei, mu float64, elements int) *beam.Rod {
	t.Helper()
	return newRod(t, []beam.Piece{{To: length, EI: constant(ei), Mu: constant(mu)}}, nil, elements)
}

// led is a mathematical pendulum whose pivot the hand leads round at a radius:
// with its angle φ from plumb, l·φ″ = −(g·sin φ + x″·cos φ + y″·sin φ) for the
// pivot's acceleration (x″, y″) (Lagrange's equation of that one angle).
type led struct {
	beam.Cast
	radius, time, angle, rate float64
}

// butt is the angle of the butt and its first two derivatives.
func (p *led) butt(t float64) (angle, rate, acceleration float64) {
	u, arc := t/p.Time, p.To-p.From
	return p.From + arc*u*u*u*(10-15*u+6*u*u), arc / p.Time * 30 * u * u * (1 - u) * (1 - u),
		arc / (p.Time * p.Time) * u * (60 - 180*u + 120*u*u)
}

func (p *led) acceleration(t, angle float64) float64 {
	butt, rate, acceleration := p.butt(t)
	sin, cos := math.Sincos(butt)
	x := p.radius * (-acceleration*sin - rate*rate*cos)
	y := p.radius * (acceleration*cos - rate*rate*sin)
	return -((beam.Gravity+y)*math.Sin(angle) + x*math.Cos(angle)) / p.Drop
}

// advance is a step of the classical Runge–Kutta method.
func (p *led) advance(h float64) {
	a1, v1 := p.acceleration(p.time, p.angle), p.rate
	a2, v2 := p.acceleration(p.time+h/2, p.angle+h/2*v1), p.rate+h/2*a1
	a3, v3 := p.acceleration(p.time+h/2, p.angle+h/2*v2), p.rate+h/2*a2
	a4, v4 := p.acceleration(p.time+h, p.angle+h*v3), p.rate+h*a3
	p.angle += h / 6 * (v1 + 2*v2 + 2*v3 + v4)
	p.rate += h / 6 * (a1 + 2*a2 + 2*a3 + a4)
	p.time += h
}

// velocity of the lead.
func (p *led) velocity() (x, y float64) {
	butt, rate, _ := p.butt(p.time)
	return -p.radius*rate*math.Sin(butt) + p.Drop*p.rate*math.Cos(p.angle),
		p.radius*rate*math.Cos(butt) + p.Drop*p.rate*math.Sin(p.angle)
}

// TestRigidRodLeadsAPendulum compares the cast of a rod that hardly bends, on
// a line that hardly gives, with the pendulum that it then is.
func TestRigidRodLeadsAPendulum(t *testing.T) {
	rod := plain(t, 3, 1e6, 0.04, 4)
	for _, time := range []float64{0.5, 0.8} {
		for _, drop := range []float64{0.6, 1.2} {
			t.Run(fmt.Sprintf("%g s, %g m", time, drop), func(t *testing.T) {
				c := overhead
				c.Time, c.Drop, c.LineStiffness, c.Step = time, drop, 1e6, 2.5e-4
				f := thrown(t, rod, c)
				p := led{Cast: c, radius: c.Arm + rod.Length()}
				const steps = 20000
				for range steps {
					p.advance(time / steps)
					x, y := p.velocity()
					if p.time > time/4 && math.Atan2(y, x) <= c.Launch {
						break
					}
				}
				x, y := p.velocity()
				butt, rate, _ := p.butt(p.time)
				// Steps of 1/2000 to 1/3200 of the cast leave some 1e-5, the rod
				// gives by a millimetre: some 1e-4 of the drop.
				within(t, "time of the release", f.Release.Time, p.time, 2e-4*time)
				within(t, "speed of the lead", f.Release.Speed, math.Hypot(x, y), 5e-4*math.Hypot(x, y))
				within(t, "butt", f.Release.Butt, butt, 1e-3)
				within(t, "speed of the tip", f.Release.TipSpeed, p.radius*math.Abs(rate), 5e-3*p.radius*math.Abs(rate))
			})
		}
	}
}

// TestFlightIsAParabola follows the lead after its release: without drag it
// flies on x = x₀ + v·cos α·t, y = y₀ + v·sin α·t − g·t²/2.
func TestFlightIsAParabola(t *testing.T) {
	f := thrown(t, castRod(t, 24), overhead)
	r := f.Release
	within(t, "launch", r.Direction, overhead.Launch, 1e-8)
	seen := 0
	var from beam.Instant
	for _, at := range f.Track {
		if s := at.Time - r.Time; s >= 0 {
			if seen++; s == 0 {
				from = at
			}
			within(t, "x", at.LeadX, from.LeadX+r.Speed*math.Cos(r.Direction)*s, 1e-8)
			within(t, "y", at.LeadY, from.LeadY+r.Speed*math.Sin(r.Direction)*s-beam.Gravity*s*s/2, 1e-8)
			if s > 0 {
				within(t, "tension", at.Tension, 0, 0)
			}
		}
	}
	if seen < 100 {
		t.Errorf("only %d instants after the release", seen)
	}
}

// TestStrongerRodOfTheSameAction makes rod, lead and line k times as stiff and
// heavy: it moves in the same way, and all forces and energies are k times as
// large. In the trade's words, two rods of the same action bend to the same
// curve under loads as their powers (common practice, no source).
func TestStrongerRodOfTheSameAction(t *testing.T) {
	const k = 2.5
	scaled := func(k float64) *beam.Rod {
		r := readJSON[map[string]referenceRod](t, "rods.json")["R1"]
		pieces := r.pieces()
		for i, p := range pieces {
			pieces[i].EI = func(s float64) float64 { return k * p.EI(s) }
			pieces[i].Mu = func(s float64) float64 { return k * p.Mu(s) }
		}
		return newRod(t, pieces, []beam.PointMass{{S: 1.2, Mass: k * 0.02}, {S: r.Length, Mass: k * 0.002}}, 24)
	}
	one := thrown(t, scaled(1), overhead)
	more := thrown(t, scaled(k), changed(overhead, func(c *beam.Cast) { c.Lead *= k; c.LineStiffness *= k }))
	// Rounding, carried through seven hundred steps.
	const share = 1e-8
	within(t, "speed", more.Release.Speed, one.Release.Speed, share*one.Release.Speed)
	within(t, "time", more.Release.Time, one.Release.Time, share)
	within(t, "turn", more.Turn.Value, one.Turn.Value, share)
	within(t, "amplitude", more.Swing.Amplitude, one.Swing.Amplitude, share)
	within(t, "moment", more.Moment.Value, k*one.Moment.Value, share*k*one.Moment.Value)
	within(t, "work", more.Release.Account.Work, k*one.Release.Account.Work, share*k*one.Release.Account.Work)
	for i, at := range one.Track {
		within(t, "tension", more.Track[i].Tension, k*at.Tension, share*k*max(at.Tension, 1))
	}
}

// TestSmallSwingAfterTheCast lets the tip of a rod swing a little, after a slow
// cast with a light lead: the first mode's frequency, up to what weight adds,
// and a tenth after ln 10/ζω (exponential decay).
func TestSmallSwingAfterTheCast(t *testing.T) {
	rod := plain(t, 2.4, 150, 0.02, 24)
	modes, err := rod.Modes(1)
	if err != nil {
		t.Fatal(err)
	}
	c := changed(overhead, func(c *beam.Cast) { c.Time, c.Lead = 1.2, 0.005 })
	s := thrown(t, rod, c).Swing
	f := modes[0].Frequency
	// Weight acts along the rod with −mg·sin ψ, which takes some 1e-3 of ω².
	within(t, "frequency", s.Frequency, f, 2e-3*f)
	within(t, "damping", beam.DampingOf(s), c.Damping, 0.02*c.Damping)
	settle := math.Ln10 / (c.Damping * 2 * math.Pi * f)
	within(t, "time to a tenth", s.Settle, settle, 0.02*settle)
	still := thrown(t, rod, changed(c, func(c *beam.Cast) { c.Damping = 0 })).Swing
	if !math.IsInf(still.Settle, 1) {
		t.Errorf("an undamped rod settles in %g s", still.Settle)
	}
}

// TestHardlyAnySwing lets a speck go from a rod that has come to rest: what
// cannot be read off must not come out as NaN.
func TestHardlyAnySwing(t *testing.T) {
	c := changed(overhead, func(c *beam.Cast) { c.Time, c.Lead = 9, 1e-9 })
	s := thrown(t, plain(t, 2.4, 150, 0.02, 8), c).Swing
	if math.IsNaN(s.Amplitude+s.Frequency) || !(s.Settle > 0) {
		t.Errorf("swing %+v", s)
	}
}

// TestHeavierLead: the same cast with a heavier lead bends the rod more and
// sends the lead off slower, with more energy (common practice, no source).
func TestHeavierLead(t *testing.T) {
	rod := castRod(t, 24)
	var before *beam.Flight
	for _, lead := range []float64{0.02, 0.04, 0.08, 0.16} {
		f := thrown(t, rod, changed(overhead, func(c *beam.Cast) { c.Lead = lead }))
		if before != nil {
			if f.Release.Speed >= before.Release.Speed {
				t.Errorf("%g kg flies at %g m/s, half of it at %g", lead, f.Release.Speed, before.Release.Speed)
			}
			if f.Release.Account.Lead <= before.Release.Account.Lead {
				t.Errorf("%g kg carries %g J, half of it %g", lead, f.Release.Account.Lead, before.Release.Account.Lead)
			}
			if f.Moment.Value <= before.Moment.Value {
				t.Errorf("%g kg loads the butt by %g N·m, half of it by %g", lead, f.Moment.Value, before.Moment.Value)
			}
		}
		before = f
	}
}

// TestAnyCastIsAccountedForOrRefused draws casts at random, from idle to
// furious, by a rod that is damped at least a little.
func TestAnyCastIsAccountedForOrRefused(t *testing.T) {
	rod := readJSON[map[string]referenceRod](t, "rods.json")["R1"].mesh(t, false, 16)
	released := 0
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		c := beam.Cast{
			Arm: draw("arm", 0, 1), To: draw("to", 0, 1.5), Time: draw("time", 0.3, 1.5),
			Lead: draw("lead", 0.005, 0.3), Drop: draw("drop", 0.2, 2), LineStiffness: draw("line", 50, 5000),
			Launch: draw("launch", 0, 1), Damping: draw("damping", 0.005, 0.05), Step: 4e-3,
		}
		c.From = c.To + draw("arc", 0.2, 3)
		f, end, err := rod.CastToTheEnd(c)
		upright := math.Abs(c.From-math.Pi/2) < 5*degree // where a heavy lead buckles the rod
		if errors.Is(err, beam.ErrNoRelease) || upright && errors.Is(err, beam.ErrNoRest) {
			return
		}
		if err != nil {
			t.Fatalf("%+v: %v", c, err)
		}
		released++
		if a := end; !(math.Abs(a.Open()) <= 1e-4*(math.Abs(a.Work)+a.Bent+a.Lead)) {
			t.Errorf("%g J of %+v are open", a.Open(), a)
		}
		if r := f.Release; !(r.Speed > 0) || math.Abs(r.Direction-c.Launch) > 1e-6 {
			t.Errorf("released at %g rad and %g m/s", r.Direction, r.Speed)
		}
		if s := f.Swing; !(s.Frequency > 0 && s.Amplitude > 0 && s.Settle < math.Inf(1)) {
			t.Errorf("swing %+v", s)
		}
	})
	if released == 0 {
		t.Error("no cast was released")
	}
}
