package evaluate

import (
	"iter"

	"rodlore/evaluate/beam"
)

// flatTurn is the turn that feet, whippings and joints take out of the bent
// rod: under the moment M the bare blank would curve by M/EI₀ and not by M/EI,
// so it is ∫ M·(1/EI₀ − 1/EI) ds over the stiffened stretches. joints is how
// much of it the joints take.
func (r *rod) flatTurn(sh *beam.Shape) (all, joints float64) {
	for p := range r.stiffenedPieces() {
		turn := r.turnTaken(p, sh)
		all += turn
		if len(p.members) > 1 {
			joints += turn
		}
	}
	return all, joints
}

// stiffenedPieces yields the pieces beyond the hold that are stiffer than the
// bare blank, butt side first.
func (r *rod) stiffenedPieces() iter.Seq[*piece] {
	return func(yield func(*piece) bool) {
		for _, p := range r.pieces {
			if p.from >= r.held-1e-9 && p.stiffened() && !yield(p) {
				return
			}
		}
	}
}

// turnTaken is the turn that the stiffening of one piece takes out.
func (r *rod) turnTaken(p *piece, sh *beam.Shape) float64 {
	var turn float64
	var moments [len(p.stations)]float64
	for i := range p.stations {
		moments[i] = p.stations[i].z - r.held
	}
	sh.Moments(moments[:])
	for i, moment := range moments {
		c := &p.stations[i]
		turn += c.weight * moment * (1/c.Plain - 1/c.EI)
	}
	return turn
}

// curvatureLoss is where a stiffening takes the most of the curvature away.
type curvatureLoss struct {
	share float64 // 1 − EI₀/EI
	at    float64 // m from the butt
}

// flatSpots gives the flattest spot of every ring, butt side first, and then of
// every joint; what lies on neither is counted to the nearest ring.
func (r *rod) flatSpots() []curvatureLoss {
	spots := make([]curvatureLoss, len(r.rings)+len(r.joints))
	for p := range r.stiffenedPieces() {
		spot := &spots[r.stiffener(p)]
		middle := p.stations[len(p.stations)/2]
		for _, place := range []station{{z: p.from, cross: p.first}, middle, {z: p.to, cross: p.last}} {
			if lost := 1 - place.Plain/place.EI; lost > spot.share {
				*spot = curvatureLoss{lost, place.z}
			}
		}
	}
	return spots
}

// stiffener is the index in flatSpots of what stiffens a piece.
func (r *rod) stiffener(p *piece) int {
	mid := (p.from + p.to) / 2
	if len(p.feet) == 0 || len(p.members) > 1 {
		for i, j := range r.joints {
			if j.reach.has(mid) {
				return len(r.rings) + i
			}
		}
	}
	next := 0
	for next < len(r.rings)-1 && r.rings[next].z < mid {
		next++
	}
	if next > 0 && mid-r.rings[next-1].z < r.rings[next].z-mid {
		next--
	}
	return next
}

// flatWorst is the flattest spot, and whether a joint makes it or what stands
// on the blank.
func (r *rod) flatWorst() (worst curvatureLoss, joint bool) {
	for i, spot := range r.flatSpots() {
		if spot.share > worst.share {
			worst, joint = spot, i >= len(r.rings)
		}
	}
	return worst, joint
}

// flatWorstAside says where the flattest spot is and what makes it.
func (r *rod) flatWorstAside() Note {
	worst, joint := r.flatWorst()
	key := "asides.flat under a ring"
	if joint {
		key = "asides.flat at a joint"
	}
	return NewNote(key, "place", quantity("m", r.length-worst.at))
}

// stiffened reports whether anything stands on the blank or two tubes lie in
// each other.
func (p *piece) stiffened() bool {
	return len(p.members) > 1 || len(p.feet) > 0 || len(p.wraps) > 0
}
