package beam

import (
	"errors"
	"fmt"
	"math"
)

// Cast is a cast to be worked through in time: the hand turns the held part of
// the rod about itself, forwards and in one plane, from rest to rest. Angles
// are counted upwards from the horizontal in the direction of the cast, so a
// rod held upright is at π/2 and one laid back at more than that.
type Cast struct {
	Arm           float64 // m from the hand, about which the butt turns, to the clamp
	From, To      float64 // rad, angle of the butt before and after
	Time          float64 // s from the one to the other
	Lead          float64 // kg
	Drop          float64 // m of line between the tip and the lead, slack
	LineStiffness float64 // N: tension over strain of the line
	Launch        float64 // rad: the lead is let go when its flight has come down to this
	Damping       float64 // of the first mode, as a share of critical
	Step          float64 // s, of the computation, doubled once only the tip swings; 0 leaves it to Cast
}

// Flight is what came of a cast.
type Flight struct {
	Release   Release
	Moment    Peak  // largest bending moment, N·m
	Curvature Peak  // largest curvature, 1/m
	Turn      Peak  // largest turn of the tip from the butt's direction, rad
	Swing     Swing // of the tip, after the release
	Track     []Instant
}

// Release is the moment at which the lead is let go.
type Release struct {
	Time      float64 // s since the start
	Butt      float64 // rad, angle of the butt
	Speed     float64 // m/s, of the lead
	Direction float64 // rad, of the lead's flight
	TipSpeed  float64 // m/s
	Account   Account
}

// Peak is a largest magnitude, with its sign, and where and when it was.
type Peak struct {
	Value float64 `json:"value"`
	S     float64 `json:"s"`    // m from the clamp
	Time  float64 `json:"time"` // s since the start
}

// Swing is how the tip swings about its place of rest, once the lead has gone
// and the butt stands still.
type Swing struct {
	Amplitude float64 // m, the farthest that it goes, square to the butt
	Frequency float64 // Hz, of the first mode; 0 where it hardly swings
	Settle    float64 // s in which the swing falls to a tenth; +Inf where it does not
}

// Instant is the state at one time.
type Instant struct {
	Time    float64 `json:"time"`  // s
	Butt    float64 `json:"butt"`  // rad, angle of the butt
	TipX    float64 `json:"tip-x"` // m from the hand
	TipY    float64 `json:"tip-y"`
	LeadX   float64 `json:"lead-x"` // m from the hand; after the release the lead flies without drag
	LeadY   float64 `json:"lead-y"`
	Tension float64 `json:"tension"` // N, of the line; 0 after the release
	Turn    float64 `json:"turn"`    // rad, of the tip from the butt's direction
}

// Reasons for which a cast is not worked through. The error of Cast wraps one
// of them and names what was asked for.
var (
	ErrNoRest    = errors.New("the rod finds no rest under its own weight and the lead's")
	ErrNoMotion  = errors.New("no motion found that keeps the balance of forces")
	ErrNoRelease = errors.New("the lead's flight never comes down to the launch angle")
)

func (c Cast) check() error {
	positive := []struct {
		name  string
		value float64
	}{
		{"time of the cast", c.Time}, {"lead", c.Lead}, {"drop", c.Drop}, {"line's stiffness", c.LineStiffness},
	}
	if !finite(c.Arm, c.From, c.To, c.Time, c.Lead, c.Drop, c.LineStiffness, c.Launch, c.Damping, c.Step) {
		return fmt.Errorf("a cast must have finite numbers, not %+v", c)
	}
	for _, p := range positive {
		if p.value <= 0 {
			return fmt.Errorf("the %s must be over 0, not %g", p.name, p.value)
		}
	}
	switch {
	case c.Arm < 0:
		return fmt.Errorf("the hand must be at the clamp or behind it, not %g m beyond", -c.Arm)
	case c.From <= c.To || c.From-c.To > 2*math.Pi:
		return fmt.Errorf("the butt must turn forwards by up to a whole turn, not from %.4g° to %.4g°", c.From/degree, c.To/degree)
	case math.Abs(c.Launch) >= math.Pi/2:
		return fmt.Errorf("the launch must be forwards, less than 90° up or down, not at %.4g°", c.Launch/degree)
	case c.Damping < 0 || c.Damping > mostDamping:
		return fmt.Errorf("the damping must be a share of critical from 0 to %g, not %g", mostDamping, c.Damping)
	case c.Step < 0:
		return fmt.Errorf("the step must not be negative (%g s)", c.Step)
	}
	return nil
}

const (
	degree = math.Pi / 180 // in rad
	// mostDamping leaves enough of the swing to read it; rods have a tenth
	// of it.
	mostDamping = 0.2
)

// butt is the angle of the butt at a time: the polynomial of degree five that
// starts and ends without speed or acceleration.
func (c *Cast) butt(t float64) float64 {
	u := min(1, t/c.Time)
	return c.From + (c.To-c.From)*u*u*u*(10-15*u+6*u*u)
}

// Cast works a cast through. It serves to compare rods at the same cast, not
// to promise a distance: the package documentation says what it leaves out.
func (r *Rod) Cast(c Cast) (*Flight, error) {
	run, err := r.cast(c)
	if err != nil {
		return nil, err
	}
	return run.flight, nil
}

func (r *Rod) cast(c Cast) (*casting, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	modes, err := r.Modes(1)
	if err != nil {
		return nil, err
	}
	run, err := newCasting(r, c, modes[0])
	if err != nil {
		return nil, err
	}
	for _, part := range []func() error{run.start, run.throw, run.follow} {
		if err := part(); err != nil {
			return nil, err
		}
	}
	return run, nil
}
