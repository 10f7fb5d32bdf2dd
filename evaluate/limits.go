package evaluate

import (
	"cmp"
	"errors"
	"fmt"
	"math"

	"rodlore/evaluate/beam"
	"rodlore/models/units"
)

// Limits says how near a rod comes to breaking. They are estimates to compare
// revisions by and no safe loads.
type Limits struct {
	Factor float64 // that the materials' strain limits are divided by
	// Lifts are the pulls of the line through the rings that reach the allowed
	// strain, by the angle between butt and line.
	// One at which no pull does is left out, and LiftNotes says why.
	Lifts     []Lift
	LiftNotes []Note
	// AtTip says that the rod has no rings, so that the pull is at its tip.
	AtTip bool
	// Line is the strength of the model's line, N, and LineAngle the smallest
	// angle between butt and line at which a pull of that strength reaches the
	// allowed strain, rad. Line is 0 where the spec gives none; LineAngle is
	// NaN where no angle up to the steepest of Lifts does.
	Line, LineAngle float64
	// Strains along the free length, tip first, at the test curve and at the
	// load limit.
	Strains []Strain
}

// Lift is the pull at one angle that reaches the allowed strain.
type Lift struct {
	Angle float64 `json:"angle"` // rad between butt and line
	Pull  float64 `json:"pull"`  // N
	At    float64 `json:"at"`    // m from the tip, where the rod would break first
	By    Failure `json:"by"`    // what would fail there
}

// Strain is what the outer fibre bears at one place.
type Strain struct {
	S         float64 `json:"s"` // m from the tip
	TestCurve float64 `json:"test-curve"`
	LoadLimit float64 `json:"load-limit"`
	Allowed   float64 `json:"allowed"` // the smaller of the limits of material and wall, divided by the range's factor; 0 where the material gives none
	By        Failure `json:"by"`      // which of them that is; "" where the material gives none
}

// liftAngles are those that Limits is worked out at, in degrees. A steeper lift
// than the last is one that every maker warns of (common practice, no source).
var liftAngles = []float64{30, 45, 60, 75, 90, 105, 120, 135}

// Limits finds the limits of the rod, each angle for itself. The error says why
// there are none, such as a material without strain limit.
func (on *Rod) Limits() (*Limits, error) {
	l, p, err := on.lifted(len(liftAngles))
	if err != nil {
		return nil, err
	}
	l.LineAngle, err = p.lineAngle(l)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", on.spec.Name, err)
	}
	c, _ := p.solve(nil)
	l.Strains = p.strains(c)
	return l, nil
}

// FlattestLift is Limits as far as they tell how much the rod bears at least: with the
// first of its Lifts alone, its LineAngle NaN and without Strains.
func (on *Rod) FlattestLift() (*Limits, error) {
	l, _, err := on.lifted(1)
	return l, err
}

// lifted finds limits as far as so many lifts tell them.
func (on *Rod) lifted(most int) (*Limits, *pass, error) {
	r, err := on.mesh()
	if err != nil {
		return nil, nil, err
	}
	p := newPass(r.rod, on.set, r.fine)
	l := &Limits{Factor: on.set.StrainFactor, Line: float64(on.spec.Line.Breaks.Value), LineAngle: math.NaN(), AtTip: r.ringless()}
	if err := p.lifts(l, most); err != nil {
		return nil, nil, fmt.Errorf("%s: %w", on.spec.Name, err)
	}
	return l, p, nil
}

// lifts finds the pull that reaches the limit at so many angles, the flattest
// first: the one before is where the next is looked for.
func (p *pass) lifts(l *Limits, most int) error {
	start, unlifted := limitLoad{force: 1}, error(nil)
	for _, deg := range liftAngles {
		angle := deg * units.Size("deg")
		found, err := p.bendToLimit(func(force float64) (*beam.Shape, error) { return p.lift(force, angle) }, start)
		switch {
		case errors.Is(err, errNoLimit):
			return err
		case err != nil:
			l.LiftNotes = append(l.LiftNotes, NewNote("unfound.lift", "angle", quantity("rad", angle), "why", missing("", err)))
			unlifted = unfound(err, p.set.Display())
			p.solver, start = beam.NewSolver(p.beam), limitLoad{force: 1}
			continue
		}
		start = *found
		w := p.weakest(found.Shape)
		l.Lifts = append(l.Lifts, Lift{Angle: angle, Pull: found.force, At: w.At, By: w.By})
		if len(l.Lifts) == most {
			break
		}
	}
	if len(l.Lifts) == 0 {
		return fmt.Errorf("at no angle is a pull found that reaches the limit: %w", unlifted)
	}
	return nil
}

// lift bends the rod by a pull of the line at that angle to the butt, at the tip
// of a rod without rings.
func (p *pass) lift(force, angle float64) (*beam.Shape, error) {
	if p.rod.ringless() {
		return p.solver.Bend(beam.Load{Force: force, Direction: angle, Weight: true})
	}
	l := p.rod.threaded(force, angle, true)
	l.LoadsOnly = true
	sh, err := p.solver.BendLine(l)
	if err != nil {
		return nil, err
	}
	return sh.Shape, nil
}

// lineAngle finds the angle at which a pull of the line's strength reaches the
// limit, by halving the stretch of angles on which the pull comes down to it.
func (p *pass) lineAngle(l *Limits) (float64, error) {
	for i, lift := range l.Lifts {
		if l.Line == 0 || lift.Pull > l.Line {
			continue
		}
		low := 0.0
		if i > 0 {
			low = l.Lifts[i-1].Angle
		}
		var unbent error
		_, reached := bisected(low, lift.Angle, 1e-4, func(angle float64) bool {
			sh, err := p.lift(l.Line, angle)
			unbent = cmp.Or(unbent, err)
			return err == nil && p.worstShare(sh) < 1
		})
		return reached, unbent
	}
	return math.NaN(), nil
}

// strains samples the outer fibres along the free length.
func (p *pass) strains(c *cases) []Strain {
	var out []Strain
	free := p.beam.Length()
	for i := range bendPoints + 1 {
		s := free * float64(bendPoints-i) / bendPoints
		on := p.rod.crossAt(p.rod.held + s)
		most, by := on.bears()
		st := Strain{S: free - s, Allowed: most / p.set.StrainFactor}
		if most > 0 {
			st.By = by
		}
		if c.test != nil {
			st.TestCurve = math.Abs(c.test.At(s).Curvature) * on.strain()
		}
		if c.limit != nil {
			st.LoadLimit = math.Abs(c.limit.At(s).Curvature) * on.strain()
		}
		out = append(out, st)
	}
	return out
}
