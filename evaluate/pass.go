package evaluate

import (
	"fmt"
	"math"
	"slices"

	"rodlore/evaluate/beam"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// coarseElements is how many elements the coarse mesh has at least; the figures
// are read from the mesh with each of them halved, and what the halving changed
// is the bound on their error.
const coarseElements = 24

// pass reads the figures of mechanics on one mesh.
type pass struct {
	rod    *rod
	set    *models.Settings
	beam   *beam.Rod
	solver *beam.Solver
	fibres []fibre
	trial  *trials // that the rod is one of; nil where it is none
}

func newPass(r *rod, set *models.Settings, b *beam.Rod) *pass {
	return &pass{rod: r, set: set, beam: b, solver: beam.NewSolver(b), fibres: r.fibres(b.Nodes())}
}

// free gives the rod beyond the hold to the kernel, which counts s from there.
func (r *rod) free(elements int) (*beam.Rod, error) {
	var pieces []beam.Piece
	for i := r.firstFree(); i < len(r.pieces); i++ {
		pieces = append(pieces, r.beamPiece(i))
	}
	return beam.NewRod(pieces, r.pointMasses(), elements)
}

// firstFree is the index of the first piece beyond the hold.
func (r *rod) firstFree() int {
	return slices.IndexFunc(r.pieces, func(p *piece) bool { return p.from >= r.held-1e-9 })
}

// beamPiece is piece i as the kernel sees it.
func (r *rod) beamPiece(i int) beam.Piece {
	p := r.pieces[i]
	return beam.Piece{
		From: max(0, p.from-r.held), To: p.to - r.held,
		EI: func(s float64) float64 { return p.at(s + r.held).EI },
		Mu: func(s float64) float64 { return p.at(s + r.held).Mu() },
	}
}

// pointMasses are the rings beyond the hold.
func (r *rod) pointMasses() []beam.PointMass {
	var masses []beam.PointMass
	for _, g := range r.rings {
		if g.z >= r.held {
			masses = append(masses, beam.PointMass{S: min(g.z-r.held, r.length-r.held), Mass: g.mass, Offset: g.offset})
		}
	}
	return masses
}

// values are figures by key, SI.
type values map[string]float64

// asides are what else a figure's sentence says, by key.
type asides map[string]func(d figures.Display) string

// where tells a place on the rod, s m from the tip.
func where(s float64) func(d figures.Display) string {
	return func(d figures.Display) string { return fmt.Sprintf("That is %s from the tip.", d.Value("", "m", s)) }
}

// read reads the figures from the solved cases.
func (p *pass) read(c *cases) (values, asides, error) {
	v, say := values{}, asides{}
	if c.drop != nil {
		v["tip-drop"] = c.drop.Tip().Y
	}
	if c.third != nil {
		v["third-load"] = c.third.Load.Force
		v["third-turn"] = c.third.Tip().Turn
		v["half-turn"] = halfTurn(c.third)
	}
	if c.test != nil {
		v["test-curve"], say["test-curve"] = c.test.Load.Force, p.tellConvention
		w := p.worst(c.test)
		v["strain-worst"], say["strain-worst"] = w.strain, where(p.beam.Length()-w.at)
	}
	if c.half != nil {
		all, joints := p.rod.flatTurn(c.half)
		v["flat-turn"] = all
		if len(p.rod.joints) > 0 {
			say["flat-turn"] = func(d figures.Display) string {
				return fmt.Sprintf("The joints take %s of it.", d.Value("flat-turn", "rad", joints))
			}
		}
		if c.line != nil {
			readLine(v, c.line)
		}
	}
	if c.limit != nil {
		v["load-limit"], say["load-limit"] = c.limit.force, p.tellFailure(p.worst(c.limit.Shape))
	}
	v["tip-stiffness"] = p.beam.TipStiffness()
	return v, say, p.swing(v)
}

// tellConvention says how the test curve is measured: without that, no two can
// be compared. Through the rings, they have a part in it.
func (p *pass) tellConvention(d figures.Display) string {
	t := p.set.TestCurve
	switch {
	case t.Line == throughRings && p.rod.spec.Bare:
		return fmt.Sprintf("Measured at a turn of %s under a pull at %s on the end of the bare blank.",
			d.Value("", "rad", float64(t.Turn.Value)), d.Value("", "rad", float64(t.Pull.Value)))
	case t.Line == throughRings && !p.throughRings():
		return fmt.Sprintf("Measured at a turn of %s under a pull at %s on the tip ring, as there are no others to run the line through.",
			d.Value("", "rad", float64(t.Turn.Value)), d.Value("", "rad", float64(t.Pull.Value)))
	}
	text := fmt.Sprintf("Measured at a turn of %s under a pull at %s, line %s.",
		d.Value("", "rad", float64(t.Turn.Value)), d.Value("", "rad", float64(t.Pull.Value)), t.Line)
	if t.Line == throughRings {
		text += " A ring fewer near the tip takes some percent off it, where the third load hardly moves."
	}
	return text
}

// wellCast is the cast share that cast-lead has.
const wellCast = 0.7

// swing reads the figures of the swinging rod.
func (p *pass) swing(v values) error {
	modes, err := p.beam.Modes(2)
	if err != nil {
		return err
	}
	v["recovery"], v["second-mode"] = modes[0].Frequency, modes[1].Frequency
	v["cast-mass"] = modes[0].ModalMass
	v["cast-lead"] = modes[0].ModalMass * wellCast / (1 - wellCast)
	v["settle"] = p.rod.settle(modes[0].Frequency, p.set)
	if lead, ok := middleLead(p.rod.spec); ok {
		v["cast-share"] = lead / (lead + modes[0].ModalMass)
	}
	return nil
}

// settle is how long a swing at that frequency takes to die down to a tenth, s.
func (r *rod) settle(frequency float64, set *models.Settings) float64 {
	return figures.Of("settle").Compose([]float64{frequency, r.damping(set)})
}

// damping is that of the first mode, as a share of critical.
func (r *rod) damping(set *models.Settings) float64 {
	return float64(set.Damping.Value) * r.fitted.DampingRatio() * math.Exp(r.build.damping)
}

// halfTurn is the share of the free length, from the tip, in which half of the
// turn happens.
func halfTurn(sh *beam.Shape) float64 {
	tip := sh.Tip()
	beyond := slices.IndexFunc(sh.Turn, func(turn float64) bool { return turn >= tip.Turn/2 })
	low, high := sh.S[max(beyond-1, 0)], sh.S[max(beyond, 0)]
	for range 30 { // to a thousand-millionth of an element
		if mid := (low + high) / 2; sh.TurnAt(mid) < tip.Turn/2 {
			low = mid
		} else {
			high = mid
		}
	}
	return 1 - low/tip.S
}
