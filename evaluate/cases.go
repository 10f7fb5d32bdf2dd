package evaluate

import (
	"math"
	"slices"

	"rodlore/evaluate/beam"
)

// cases are the load cases that the figures are read from, solved on one mesh.
// One that could not be solved is nil.
type cases struct {
	third *beam.Shape // tip lowered by a third of the free length
	drop  *beam.Shape // bench load hung
	test  *beam.Shape // test curve
	half  *beam.Shape // half the test curve
	limit *limitLoad
	line  *beam.LineShape // half the test curve, by the line through the rings; of a pole nil
}

// hung is a load of that size hung from the tip of the level rod. A weight
// tied to the tip ring is taken to pull on the middle of the blank: its arm,
// the ring's height, would let the tip turn past the plumb line, which nobody
// means by a test curve.
func hung(force float64) beam.Load {
	return beam.Load{Force: force, Direction: math.Pi / 2, Weight: true}
}

// pulled is a load of that size in the direction of the range's test curve.
func (p *pass) pulled(force float64) beam.Load {
	l := hung(force)
	l.Direction = p.pull()
	return l
}

// pull is the direction of the range's test curve.
func (p *pass) pull() float64 { return float64(p.set.TestCurve.Pull.Value) }

// solve works through the cases, each started from the same case on a coarser
// mesh where there is one. It returns why a case has no answer, by the figure
// that wants it.
func (p *pass) solve(coarse *cases) (*cases, []Note) {
	c, from := &cases{}, coarse
	if from == nil {
		from = &cases{}
	}
	var notes []Note
	keep := func(into **beam.Shape, key string, start *beam.Shape, bend func() (*beam.Shape, error)) {
		if start != nil {
			p.solver.StartFrom(start)
		}
		sh, err := bend()
		if err != nil {
			notes = append(notes, missing(key, err))
			return
		}
		*into = sh
	}
	free := p.beam.Length()
	keep(&c.drop, "tip-drop", from.drop, func() (*beam.Shape, error) {
		return p.solver.Bend(hung(float64(p.set.BenchLoad.Value)))
	})
	keep(&c.third, "third-load", from.third, func() (*beam.Shape, error) {
		return p.solver.BendToDrop(hung(0), free/3)
	})
	keep(&c.test, "test-curve", from.test, p.bendToTestCurve)
	if c.test == nil {
		notes = append(notes, NewNote("unfound.with test curve"))
	} else {
		keep(&c.half, "flat-turn", from.half, func() (sh *beam.Shape, err error) {
			sh, c.line, err = p.bendHalfway(c.test.Load.Force)
			return sh, err
		})
	}
	var err error
	if c.limit, err = p.limitCase(c.test, from.limit); err != nil {
		notes = append(notes, missing("load-limit", err))
	}
	return c, notes
}

// limitCase finds the load limit, or bends a trial by that of its spec.
func (p *pass) limitCase(test *beam.Shape, coarse *limitLoad) (*limitLoad, error) {
	start := p.limitStart(test, coarse)
	if p.trial == nil || coarse == nil {
		return p.bendToLimit(p.bendByConvention, start)
	}
	bent := func(force float64) (*limitLoad, error) {
		sh, err := p.bendByConvention(force)
		if err != nil {
			return nil, err
		}
		return &limitLoad{force: force, bent: force, Shape: sh}, nil
	}
	at, err := bent(start.force)
	if err != nil || p.rod.side() >= 0 || p.trial.base == nil {
		return at, err
	}
	// Where the line comes to lie on the blank the shares grow by another power, so
	// a limit that is far from the spec's is read from a bend nearer to it.
	const far = 3e-4
	limit := slices.Min(p.trial.limit.loads(p, at))
	if math.Abs(limit/slices.Min(p.trial.base["load-limit"])-1) < far {
		return at, nil
	}
	return bent(limit)
}

// limitStart is where to look for the load limit, with the solver put there:
// where a coarser mesh found it, or else beyond the test curve.
func (p *pass) limitStart(test *beam.Shape, coarse *limitLoad) limitLoad {
	switch {
	case coarse != nil:
		p.solver.StartFrom(coarse.Shape)
		return *coarse
	case test == nil:
		return limitLoad{force: 1}
	}
	p.solver.StartFrom(test)
	return limitLoad{force: test.Load.Force * math.Pow(max(p.worstShare(test), 1e-3), -1/usualSlope)}
}

// bendByConvention bends the rod as the range's test curve does.
func (p *pass) bendByConvention(force float64) (*beam.Shape, error) {
	if !p.throughRings() {
		return p.solver.Bend(p.pulled(force))
	}
	return p.lift(force, p.pull())
}

// throughRings says that the test curve is measured with the line through the
// rings. Where there are none it is pulled at the tip ring whatever the range
// says: a line from there to the reel would bend the rod as a bowstring does.
func (p *pass) throughRings() bool {
	return p.set.TestCurve.Line == throughRings && !p.rod.ringless()
}

// bendToTestCurve pulls the tip round to the turn that counts as square, by the
// range's convention.
func (p *pass) bendToTestCurve() (*beam.Shape, error) {
	turn := float64(p.set.TestCurve.Turn.Value) + p.rod.build.turn
	if !p.throughRings() {
		return p.solver.BendToTurn(p.pulled(0), turn)
	}
	l := p.rod.threaded(0, p.pull(), true)
	l.LoadsOnly = true
	sh, err := p.solver.BendLineToTurn(l, turn)
	if err != nil {
		return nil, err
	}
	return sh.Shape, nil
}

// bendHalfway bends the rod at half of its test curve, by the line through the
// rings, or at its tip where it has none: then there is no LineShape.
func (p *pass) bendHalfway(testCurve float64) (*beam.Shape, *beam.LineShape, error) {
	if p.rod.ringless() {
		sh, err := p.solver.Bend(p.pulled(testCurve / 2))
		return sh, nil, err
	}
	l := p.rod.threaded(testCurve/2, p.pull(), true)
	l.Radius, l.Surface = p.rod.surface, p.rod // for the gap
	sh, err := p.solver.BendLine(l)
	if err != nil {
		return nil, nil, err
	}
	return sh.Shape, sh, nil
}
