package evaluate

import (
	"fmt"

	"rodlore/evaluate/beam"
)

// flatTurn is the turn that feet, whippings and joints take out of the bent
// rod: under the same moment the bare blank would curve by EI/EI₀ times as
// much, so it is ∫ κ·(EI/EI₀ − 1) ds over the stiffened stretches. joints is
// how much of it the joints take.
func (r *rod) flatTurn(sh *beam.Shape) (all, joints float64) {
	for i := range r.pieces {
		p := &r.pieces[i]
		if p.from < r.held-1e-9 || !p.stiffened() {
			continue
		}
		var turn float64
		half := p.length() / 2
		for _, g := range gauss3 {
			z := p.from + half*(1+g.x)
			c := p.at(z)
			turn += g.w * half * sh.At(z-r.held).Curvature * (c.EI/c.Plain - 1)
		}
		all += turn
		if len(p.members) > 1 {
			joints += turn
		}
	}
	return all, joints
}

// flatWorst is the largest share of the curvature that a stiffening takes away,
// 1 − EI₀/EI, where that is, m from the butt, and whether a joint does it or
// what stands on the blank.
func (r *rod) flatWorst() (share, at float64, joint bool) {
	for i := range r.pieces {
		p := &r.pieces[i]
		if p.from < r.held-1e-9 || !p.stiffened() {
			continue
		}
		for _, z := range []float64{p.from, (p.from + p.to) / 2, p.to} {
			c := p.at(z)
			if lost := 1 - c.Plain/c.EI; lost > share {
				share, at, joint = lost, z, len(p.members) > 1
			}
		}
	}
	return share, at, joint
}

// tellFlatWorst says where the flattest spot is and what makes it.
func (r *rod) tellFlatWorst(d Display) string {
	_, z, joint := r.flatWorst()
	what := "what stands on the blank"
	if joint {
		what = "the joint"
	}
	return fmt.Sprintf("It is %s from the tip, from %s.", d.Value("", "m", r.length-z), what)
}

// stiffened reports whether anything stands on the blank or two tubes lie in
// each other.
func (p *piece) stiffened() bool {
	return len(p.members) > 1 || len(p.feet) > 0 || len(p.wraps) > 0
}
