package beam_test

import (
	"errors"
	"math"
	"reflect"
	"strings"
	"sync"
	"testing"

	"rodlore/evaluate/beam"
)

// overhead is a cast with some 80 g from a rod of twelve feet.
var overhead = beam.Cast{
	Arm: 0.6, From: 180 * degree, To: 40 * degree, Time: 0.7,
	Lead: 0.08, Drop: 0.8, LineStiffness: 400, Launch: 40 * degree, Damping: 0.02,
}

// castRod is a tapered rod with a joint and rings of rods.json.
func castRod(t testing.TB, elements int) *beam.Rod {
	return readJSON[map[string]referenceRod](t, "rods.json")["R1J"].mesh(t, true, elements)
}

// thrown works a cast through that must succeed.
func thrown(t testing.TB, r *beam.Rod, c beam.Cast) *beam.Flight {
	t.Helper()
	f, err := r.Cast(c)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// changed is the cast with changes.
func changed(c beam.Cast, change func(*beam.Cast)) beam.Cast {
	change(&c)
	return c
}

// TestWorkOfTheHandIsAccountedFor asks that the work of the hand is found
// again as kinetic, stored, lifted and lost energy. The steps keep energy up to
// the tolerance of their solution, so far less is open than the 0.1 % that a
// reader would notice.
func TestWorkOfTheHandIsAccountedFor(t *testing.T) {
	cases := map[string]func(*beam.Cast){
		"as it stands":  func(*beam.Cast) {},
		"without loss":  func(c *beam.Cast) { c.Damping = 0 },
		"violent":       func(c *beam.Cast) { c.Time = 0.35 },
		"gentle":        func(c *beam.Cast) { c.Time = 1.5 },
		"heavy lead":    func(c *beam.Cast) { c.Lead = 0.2 },
		"light lead":    func(c *beam.Cast) { c.Lead = 0.005 },
		"stiff line":    func(c *beam.Cast) { c.LineStiffness = 1e5 },
		"short arc":     func(c *beam.Cast) { c.From, c.Launch, c.Time = 140*degree, 15*degree, 0.5 },
		"coarse steps":  func(c *beam.Cast) { c.Step = 4e-3 },
		"hand at clamp": func(c *beam.Cast) { c.Arm = 0 },
	}
	rod := castRod(t, 40)
	for name, change := range cases {
		t.Run(name, func(t *testing.T) {
			c := changed(overhead, change)
			f, end, err := rod.CastToTheEnd(c)
			if err != nil {
				t.Fatal(err)
			}
			for at, a := range map[string]beam.Account{"release": f.Release.Account, "end": end} {
				within(t, "open share of the work at the "+at, a.Open()/a.Work, 0, 1e-5)
			}
			lead := c.Lead * f.Release.Speed * f.Release.Speed / 2
			within(t, "kinetic energy of the lead", f.Release.Account.Lead, lead, 1e-12*lead)
			if a := f.Release.Account; a.Rod <= 0 || a.Bent <= 0 || a.Raised <= 0 || (c.Damping > 0) != (a.Lost > 0) {
				t.Errorf("an entry has the wrong sign: %+v", a)
			}
		})
	}
}

// TestCastComesOutTheSame works the same cast through several times at once.
func TestCastComesOutTheSame(t *testing.T) {
	rod := castRod(t, 24)
	flights := make([]*beam.Flight, 3)
	var group sync.WaitGroup
	for i := range flights {
		group.Go(func() { flights[i], _ = rod.Cast(overhead) })
	}
	group.Wait()
	for _, f := range flights {
		if f == nil || !reflect.DeepEqual(f, flights[0]) {
			t.Fatal("the same cast came out otherwise")
		}
	}
}

func TestCastRefusesBadInput(t *testing.T) {
	rod := castRod(t, 24)
	cases := map[string]func(*beam.Cast){
		"NaN":               func(c *beam.Cast) { c.Lead = math.NaN() },
		"infinite":          func(c *beam.Cast) { c.Time = math.Inf(1) },
		"no lead":           func(c *beam.Cast) { c.Lead = 0 },
		"negative drop":     func(c *beam.Cast) { c.Drop = -1 },
		"line without give": func(c *beam.Cast) { c.LineStiffness = 0 },
		"no time":           func(c *beam.Cast) { c.Time = 0 },
		"hand beyond clamp": func(c *beam.Cast) { c.Arm = -0.1 },
		"backwards":         func(c *beam.Cast) { c.From, c.To = c.To, c.From },
		"more than a turn":  func(c *beam.Cast) { c.From = c.To + 7 },
		"launch backwards":  func(c *beam.Cast) { c.Launch = 2 },
		"negative damping":  func(c *beam.Cast) { c.Damping = -0.01 },
		"too much damping":  func(c *beam.Cast) { c.Damping = 0.5 },
		"negative step":     func(c *beam.Cast) { c.Step = -1e-3 },
		"too many steps":    func(c *beam.Cast) { c.Step = 1e-9 },
	}
	for name, change := range cases {
		t.Run(name, func(t *testing.T) {
			f, err := rod.Cast(changed(overhead, change))
			if err == nil || f != nil {
				t.Fatalf("got %v, %v", f, err)
			}
			for _, e := range []error{beam.ErrNoRest, beam.ErrNoMotion, beam.ErrNoRelease} {
				if errors.Is(err, e) {
					t.Errorf("bad input is reported as %q", err)
				}
			}
		})
	}
}

// TestImpossibleCastsSayWhy tries casts in which the lead does not fly as asked,
// the steps cannot follow, or the rod does not stand.
func TestImpossibleCastsSayWhy(t *testing.T) {
	rod := castRod(t, 24)
	cases := map[string]struct {
		change func(*beam.Cast)
		reason error
		words  string
	}{
		"thrown flat":         {func(c *beam.Cast) { c.From, c.Time = 130*degree, 0.5 }, beam.ErrNoRelease, "launch lower"},
		"line like a spring":  {func(c *beam.Cast) { c.Drop, c.LineStiffness = 100, 1 }, beam.ErrNoRelease, "turn the butt further or faster"},
		"over in a flash":     {func(c *beam.Cast) { c.Time, c.Step = 1e-6, 1e-3 }, beam.ErrNoMotion, "cast more gently"},
		"upright under 20 kg": {func(c *beam.Cast) { c.From, c.Lead = 90*degree, 20 }, beam.ErrNoRest, "lighter lead than 20 kg"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			_, err := rod.Cast(changed(overhead, c.change))
			if !errors.Is(err, c.reason) || !strings.Contains(err.Error(), c.words) {
				t.Errorf("got %q, want %q with %q", err, c.reason, c.words)
			}
		})
	}
}
