package beam

import (
	"fmt"
	"math"
)

// casting is a cast under way.
type casting struct {
	Cast
	motion *motion
	mode   Mode // the first
	flight *Flight
	time   float64 // s since the start
	step   float64 // s, while the butt turns or the lead hangs
}

const (
	// stepsPerPeriod of the first mode are taken, and stepsPerCast at least;
	// half as many once only the tip swings.
	stepsPerPeriod = 200
	stepsPerCast   = 100
	// mostInstants keeps a slip in a time from eating all memory.
	mostInstants = 1_000_000
	// mostHalved is how often a step is halved before it is given up.
	mostHalved = 8
	// periodsHeld is for how many periods of the first mode the lead is held
	// on to after the butt has come to rest, periodsFollowed for how many the
	// tip is watched after that.
	periodsHeld     = 2
	periodsFollowed = 5
)

func newCasting(r *Rod, c Cast, mode Mode) (*casting, error) {
	m := newMotion(r)
	m.arm = c.Arm
	m.tether = tether{c.Lead, c.Drop, c.LineStiffness / c.Drop}
	m.viscosity = c.Damping / (math.Pi * mode.Frequency) // 2ζ/ω
	step := c.Step
	if step == 0 {
		step = min(1/(stepsPerPeriod*mode.Frequency), c.Time/stepsPerCast)
	}
	longest := c.Time + (periodsHeld+periodsFollowed)/mode.Frequency
	if longest > mostInstants*step {
		return nil, fmt.Errorf("a cast may take up to %d steps: %.4g s in steps of %.2g s are too many", mostInstants, longest, step)
	}
	return &casting{Cast: c, motion: m, mode: mode, step: step, flight: &Flight{}}, nil
}

// start brings the rod to rest with the lead hanging from it.
func (c *casting) start() error {
	if !c.motion.settle(c.From) {
		return fmt.Errorf("%w: lay the butt elsewhere than at %.4g° or take a lighter lead than %.4g kg", ErrNoRest, c.From/degree, c.Lead)
	}
	c.record()
	return nil
}

// throw turns the butt until the lead is let go.
func (c *casting) throw() error {
	var fastest vector
	for limit := c.Time + periodsHeld/c.mode.Frequency; c.time < limit; {
		step, err := c.try(c.step)
		if err != nil {
			return err
		}
		before, after := c.motion.speed.lead, c.motion.leadSpeed()
		if c.flies(before) && c.over(before) > 0 && c.flies(after) && c.over(after) <= 0 {
			return c.release(step)
		}
		if after.length() > fastest.length() {
			fastest = after
		}
		c.accept(step)
	}
	return c.noRelease(fastest)
}

// flies says whether the lead goes the launch's way, and does not just bob
// under the tip as the cast begins: at a tenth or more of the mean speed that
// the tip would have if the rod were rigid.
func (c *casting) flies(speed vector) bool {
	rigid := (c.Arm + c.motion.rod.Length()) * (c.From - c.To) / c.Time
	return speed.dot(direction(c.Launch)) > 0 && speed.length() > rigid/10
}

// noRelease says what the lead did instead.
func (c *casting) noRelease(fastest vector) error {
	remedy := "turn the butt further or faster"
	if c.over(fastest) < 0 {
		remedy = "lay the butt further back or launch lower"
	}
	return fmt.Errorf("%w of %.4g°: at its fastest, with %.3g m/s, it flies at %.0f°, so %s", ErrNoRelease,
		c.Launch/degree, fastest.length(), math.Atan2(fastest.y, fastest.x)/degree, remedy)
}

// over is how fast the lead moves upwards across the launch's direction.
func (c *casting) over(speed vector) float64 { return direction(c.Launch).left().dot(speed) }

// try looks for the end of a step, or of one shorter where it is too long.
func (c *casting) try(step float64) (float64, error) {
	for range mostHalved {
		if c.motion.try(step, c.butt(c.time+step)) {
			return step, nil
		}
		step /= 2
	}
	return 0, fmt.Errorf("%w %.4g s after the start, in steps of %.2g s: give the rod some damping or cast more gently",
		ErrNoMotion, c.time, step)
}

func (c *casting) accept(step float64) {
	c.motion.accept()
	c.time += step
	c.flight.watch(c.motion, c.time)
	c.record()
}

const (
	// releaseTolerance is how far from the launch's direction the lead may
	// be let go, as a share of its speed.
	releaseTolerance = 1e-9
	mostGuesses      = 50
)

// release finds the part of the step just tried in which the lead's flight
// comes down to the launch angle, goes there and lets it go. It is the rule of
// false position, halving the value of an end that stays (the Illinois method,
// Dowell and Jarratt 1971, BIT 11:168).
func (c *casting) release(step float64) error {
	low, high := 0.0, step
	before, after := c.over(c.motion.speed.lead), c.over(c.motion.leadSpeed())
	for range mostGuesses {
		guess := low + (high-low)*before/(before-after)
		var err error
		if step, err = c.try(guess); err != nil {
			return err
		}
		speed := c.motion.leadSpeed()
		over := c.over(speed)
		if math.Abs(over) <= releaseTolerance*speed.length() {
			break
		}
		if over > 0 {
			low, before, after = step, over, after/2
		} else {
			high, after, before = step, over, before/2
		}
	}
	c.accept(step)
	c.letGo()
	return nil
}

// letGo notes the release.
func (c *casting) letGo() {
	m := c.motion
	tip := len(m.was.node) - 1
	v := m.speed.lead
	c.flight.Release = Release{
		Time: c.time, Butt: m.was.turn[0], Speed: v.length(), Direction: math.Atan2(v.y, v.x),
		TipSpeed: m.speed.node[tip].length(), Account: m.account,
	}
	m.cut()
}

// follow sees the butt to its end, and then the tip's swing.
func (c *casting) follow() error {
	for c.time < c.Time {
		if err := c.goOn(c.step); err != nil {
			return err
		}
	}
	g, err := c.gauge()
	if err != nil {
		return err
	}
	for end := c.time + periodsFollowed/c.mode.Frequency; c.time < end; {
		if err := c.goOn(2 * c.step); err != nil {
			return err
		}
		g.read(c.time, c.motion)
	}
	c.flight.Swing = g.swing()
	if c.Damping == 0 { // what decay was read is the error of the steps
		c.flight.Swing.Settle = math.Inf(1)
	}
	return nil
}

func (c *casting) goOn(step float64) error {
	step, err := c.try(step)
	if err != nil {
		return err
	}
	c.accept(step)
	return nil
}

// gauge is one that reads the swing about the rest at the end of the arc.
func (c *casting) gauge() (*gauge, error) {
	still := newMotion(c.motion.rod)
	still.arm, still.gravity = c.motion.arm, c.motion.gravity
	if !still.settle(c.To) {
		return nil, fmt.Errorf("%w: end the arc elsewhere than at %.4g°", ErrNoRest, c.To/degree)
	}
	return newGauge(still, c.mode), nil
}

func (c *casting) record() {
	m := c.motion
	tip := len(m.was.node) - 1
	c.flight.Track = append(c.flight.Track, Instant{
		Time: c.time, Butt: m.was.turn[0],
		TipX: m.was.node[tip].x, TipY: m.was.node[tip].y, LeadX: m.was.lead.x, LeadY: m.was.lead.y,
		Tension: m.tether.stiffness * m.tether.stretch(m.was.span()), Turn: m.was.turn[tip] - m.was.turn[0],
	})
}
