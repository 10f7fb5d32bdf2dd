package evaluate

import (
	"math"
	"sort"

	"rodlore/evaluate/beam"
	"rodlore/evaluate/figures"
)

// reading holds what the figures of one rod are composed of, by key: of a
// figure that is composed of nothing the figure itself.
type reading map[string][]float64

// compose reads the parts of the figures from the solved cases. half is the
// place, as a share of the free length from the clamp, that the half turn is
// looked at.
func (p *pass) compose(v values, c *cases, half float64) reading {
	parts := reading{}
	for key, value := range v {
		if !figures.Of(key).Exact {
			parts[key] = []float64{value}
		}
	}
	if c.line != nil {
		parts["ring-load-worst"] = ringLoads(c.line)
		parts["line-gap"] = gaps(c.line)
		if turns := ringTurns(c.line); len(turns) > 0 {
			parts["ring-turn-spread"] = turns
		}
	}
	if c.test != nil {
		parts["strain-worst"] = p.strainPeaks(c.test)
	}
	if c.third != nil {
		parts["half-turn"] = []float64{turnUpTo(c.third, half)}
	}
	spots := p.rod.flatSpots()
	flat := make([]float64, len(spots))
	for i, spot := range spots {
		flat[i] = spot.share
	}
	parts["flat-worst"] = flat
	return parts
}

// gaps are the largest distances between line and blank from ring to ring.
func gaps(sh *beam.LineShape) []float64 {
	if len(sh.Spans) < 2 {
		return []float64{sh.Gap}
	}
	list := make([]float64, len(sh.Spans)-1)
	for i, span := range sh.Spans[1:] {
		list[i] = span.Gap
	}
	return list
}

// strainParts is how many equal parts of the free length are looked at for the
// largest strain of each, and strainPlaces in how many places.
const (
	strainParts  = 12
	strainPlaces = 4
)

// strainPeaks are the largest strains of equal parts of the rod.
func (p *pass) strainPeaks(sh *beam.Shape) []float64 {
	peaks := make([]float64, strainParts)
	step := p.beam.Length() / (strainParts * strainPlaces)
	for i := range strainParts * strainPlaces {
		part := &peaks[i/strainPlaces]
		*part = max(*part, p.bareStrain(sh, (float64(i)+0.5)*step))
	}
	return peaks
}

// bareStrain is the strain at s beside what stands on the blank there.
func (p *pass) bareStrain(sh *beam.Shape, s float64) float64 {
	z := p.rod.held + s
	at := p.rod.pieceAt(z)
	c := at.at(z)
	ei := c.Plain
	if len(at.members) > 1 { // in a joint
		ei = c.EI
	}
	return math.Abs(sh.MomentAt(s)) / ei * c.Outside / 2
}

// turnUpTo is the share of the turn that has happened between the clamp and a
// share of the length.
func turnUpTo(sh *beam.Shape, share float64) float64 {
	tip := sh.Tip()
	return sh.TurnAt(share*tip.S) / tip.Turn
}

// halfTurnParts is how many equal parts of the free length halfTurnOf knows the
// turn at the ends of.
const halfTurnParts = 256

// halfTurnOf gives the half turn of rods bent much as sh: where more of the
// turn than a half has happened at half, the half turn lies as far below it as
// in sh the place where as much less than a half has.
func halfTurnOf(sh *beam.Shape) figures.Composition {
	var turned [halfTurnParts + 1]float64
	for i := range turned {
		turned[i] = turnUpTo(sh, float64(i)/halfTurnParts)
	}
	return func(parts []float64) float64 {
		want := 1 - parts[0]
		i := min(max(sort.SearchFloat64s(turned[:], want), 1), halfTurnParts)
		part := (want - turned[i-1]) / (turned[i] - turned[i-1])
		return 1 - (float64(i-1)+part)/halfTurnParts
	}
}
