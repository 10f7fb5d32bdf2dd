package evaluate

import (
	"fmt"
	"math"
	"slices"

	"rodlore/evaluate/beam"
	"rodlore/models"
)

// Curvature is how the free length of a rod curves where flat-turn is measured:
// with the line through the rings at half the test curve.
type Curvature struct {
	Load   float64 // N
	Points []CurvaturePoint
	Spots  []FlatSpot // of the rings, tip first, then of the joints; without those that lie in the hold
}

// CurvaturePoint is the curvature at one place, tip first. Where it jumps there
// are two points at a place.
type CurvaturePoint struct {
	S     float64 // m from the tip
	Built float64 // 1/m, as the rod is built
	Bare  float64 // 1/m, of a blank with nothing on it under the same moment
}

// FlatSpot is what one ring or joint takes out of the curve.
type FlatSpot struct {
	models.Span         // m from the tip, all that it stiffens
	Ring, Joint int     // index of what it is in the spec; −1 for the other
	Foot, Wrap  bool    // what of a ring stiffens: its feet, its whippings
	Turn        float64 // rad of bend taken out; over all spots it adds up to flat-turn
	At          float64 // m from the tip, where most of the curvature is lost
}

// Curvature works out how the rod curves. The error says why there is no such
// bend.
func (on *Rod) Curvature() (*Curvature, error) {
	r, err := on.mesh()
	if err != nil {
		return nil, err
	}
	s, p := on.spec, newPass(r.rod, on.set, r.fine)
	test, err := p.bendToTestCurve()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, unfound(err, on.set.Display()))
	}
	half, _, err := p.bendHalfway(test.Load.Force)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, unfound(err, on.set.Display()))
	}
	return &Curvature{half.Load.Force, r.curvature(half), r.takenOut(half)}, nil
}

// curvaturePoints is into how many parts the longest pieces are divided at the
// least: those as long as the free length.
const curvaturePoints = 200

// curvature samples every piece beyond the hold, tip first.
func (r *rod) curvature(sh *beam.Shape) []CurvaturePoint {
	var points []CurvaturePoint
	for i := len(r.pieces) - 1; i >= r.firstFree(); i-- {
		p := r.pieces[i]
		parts := 2 + math.Floor(curvaturePoints*p.length()/(r.length-r.held))
		for j := 0.0; j <= parts; j++ {
			// Its own side of a moment that jumps at its ends.
			z := p.to - nearby - j/parts*(p.length()-2*nearby)
			m, c := sh.MomentAt(z-r.held), p.at(z)
			points = append(points, CurvaturePoint{r.length - z, m / c.EI, m / c.Plain})
		}
	}
	return points
}

// takenOut are the flat spots with what each takes out of the bend.
func (r *rod) takenOut(sh *beam.Shape) []FlatSpot {
	all := make([]FlatSpot, len(r.rings)+len(r.joints))
	for i, deepest := range r.flatSpots() {
		all[i] = FlatSpot{Ring: len(r.rings) - 1 - i, Joint: -1, At: r.length - deepest.at}
		if i >= len(r.rings) {
			all[i].Ring, all[i].Joint = -1, i-len(r.rings)
		}
	}
	for p := range r.stiffenedPieces() {
		all[r.stiffener(p)].take(p, r.fromTip(p.span), r.turnTaken(p, sh))
	}
	slices.Reverse(all[:len(r.rings)])
	return slices.DeleteFunc(all, func(s FlatSpot) bool { return s.To == 0 })
}

// take adds a piece to what a spot is made of.
func (s *FlatSpot) take(p *piece, at models.Span, turn float64) {
	if s.To == 0 {
		s.Span = at
	}
	s.From, s.To = min(s.From, at.From), max(s.To, at.To)
	s.Foot, s.Wrap = s.Foot || len(p.feet) > 0, s.Wrap || len(p.wraps) > 0
	s.Turn += turn
}
