package evaluate

import (
	"math"
	"slices"
	"strconv"

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
	rod     *rod
	set     *models.Settings
	beam    *beam.Rod
	solver  *beam.Solver
	modes   []beam.Mode // once they are read
	trial   *trials     // that the rod is one of; nil where it is none
	moments []float64   // workspace of peaksOn
}

func newPass(r *rod, set *models.Settings, b *beam.Rod) *pass {
	return &pass{rod: r, set: set, beam: b, solver: beam.NewSolver(b)}
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
		From: max(0, p.from-r.held), To: p.to - r.held, Of: p,
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

// asides are what is to be said with a figure, by key.
type asides map[string]Note

// read reads the figures from the solved cases; of a trial without those that are
// composed of what lies far along the rod.
func (p *pass) read(c *cases) (values, error) {
	v := make(values, len(figures.All()))
	if c.drop != nil {
		v["tip-drop"] = c.drop.Tip().Y
	}
	if c.third != nil {
		v["third-load"] = c.third.Load.Force
		v["third-turn"] = c.third.Tip().Turn
		v["half-turn"] = halfTurn(c.third)
	}
	if c.test != nil {
		v["test-curve"] = c.test.Load.Force
		if p.trial == nil {
			v["strain-worst"] = p.peak(c.test, (*cross).strain).value
		}
	}
	if c.half != nil {
		v["flat-turn"], _ = p.rod.flatTurn(c.half)
		if c.line != nil {
			readLine(v, c.line)
		}
	}
	if c.limit != nil {
		v["load-limit"] = c.limit.force
	}
	v["tip-stiffness"] = p.beam.TipStiffness()
	return v, p.swing(v)
}

// asides are what is to be said with the figures.
func (p *pass) asides(c *cases, v values) asides {
	aside := asides{"flat-worst": p.rod.flatWorstAside()}
	if c.test != nil {
		aside["test-curve"] = p.convention()
		at := p.peak(c.test, (*cross).strain).z
		aside["strain-worst"] = NewNote("asides.strain", "place", quantity("m", p.rod.length-at))
	}
	if c.half != nil && len(p.rod.joints) > 0 {
		_, joints := p.rod.flatTurn(c.half)
		aside["flat-turn"] = NewNote("asides.flat joints", "turn", Quantity{Key: "flat-turn", Unit: "rad", Value: joints})
	}
	if c.limit != nil {
		w := p.weakest(c.limit.Shape)
		aside["load-limit"] = NewNote("asides.fails."+string(w.By), "place", quantity("m", w.At))
	}
	if mass, ok := v["cast-line"]; ok {
		aside["cast-line"] = NewNote("asides.class", "class", strconv.Itoa(models.NearestClass(mass)))
	}
	return aside
}

// convention says how the test curve is measured: without that, no two can be
// compared.
func (p *pass) convention() Note {
	t := p.set.TestCurve
	key := "asides.curve." + t.Line
	if t.Line == throughRings && !p.throughRings() {
		key = "asides.curve.without rings"
		if p.rod.spec.Bare {
			key = "asides.curve.of a bare blank"
		}
	}
	return NewNote(key, "turn", quantity("rad", t.Turn.Value), "pull", quantity("rad", t.Pull.Value))
}

// wellCast is the share of the energy that goes into cast-lead or cast-line.
const wellCast = 0.7

// swing reads the figures of the swinging rod.
func (p *pass) swing(v values) error {
	var like []beam.Mode
	if p.trial != nil {
		like = p.trial.modes
	}
	modes, err := p.beam.Modes(2, like...)
	if err != nil {
		return err
	}
	p.modes = modes
	v["recovery"], v["second-mode"] = modes[0].Frequency, modes[1].Frequency
	v["cast-mass"] = modes[0].ModalMass
	v["settle"] = p.rod.settle(modes[0].Frequency, p.set)
	well, share := "cast-lead", "cast-share"
	if p.rod.spec.ForFly() {
		well, share = "cast-line", "line-share"
	}
	v[well] = modes[0].ModalMass * wellCast / (1 - wellCast)
	if mass, ok := p.rod.spec.CastMass(); ok {
		v[share] = mass / (mass + modes[0].ModalMass)
	}
	return nil
}

// settle is how long a swing at that frequency takes to die down to a tenth, s.
func (r *rod) settle(frequency float64, set *models.Settings) float64 {
	return figures.Of("settle").Compose([]float64{frequency, r.damping(set)}, nil)
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
	low, _ = bisected(low, high, math.Ldexp(high-low, -30), func(s float64) bool { return sh.TurnAt(s) < tip.Turn/2 })
	return 1 - low/tip.S
}
