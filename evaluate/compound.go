package evaluate

import (
	"math"
	"slices"

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
		if turns := ringTurns(c.line); len(turns) > 1 {
			parts["ring-turn-spread"] = turns
		}
	}
	if c.test != nil {
		parts["strain-worst"] = p.strainPeaks(c.test)
	}
	if c.limit != nil {
		parts["load-limit"] = p.limitParts(c.limit)
	}
	if c.third != nil {
		parts["half-turn"] = []float64{turnUpTo(c.third, half)}
	}
	if recovery, ok := v["recovery"]; ok {
		parts["settle"] = []float64{recovery, p.rod.damping(p.set)}
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

// limitParts are the forces at which places along the rod come to the limit of the
// material, and to that of the wall, by how the share of the limit grows near the
// load limit. Those that come to it at more than farOff times as much are left
// out: near the tip the strain is next to nothing and follows the inputs wildly.
func (p *pass) limitParts(l *limitLoad) []float64 {
	const farOff = 3
	slope := p.slope
	if slope == 0 {
		slope = usualSlope
		if l.slope > 0 {
			slope = l.slope
		}
	}
	forces := p.limitShares(l.Shape)
	for i, share := range forces {
		forces[i] = l.Shape.Load.Force * math.Pow(share, -1/slope)
	}
	if p.parts == nil {
		most := farOff * slices.Min(forces)
		for i, force := range forces {
			if force < most {
				p.parts = append(p.parts, i)
			}
		}
	}
	kept := make([]float64, len(p.parts))
	for k, i := range p.parts {
		kept[k] = forces[i]
	}
	return kept
}

// limitPlaces is how many places of the free length are looked at for its limit.
// Each counts by itself: the larger of two would follow now the inputs of one
// section and now those of another.
const limitPlaces = 32

// limitShares are the shares that places along the rod bear of their material's
// limit, and then of their wall's.
func (p *pass) limitShares(sh *beam.Shape) []float64 {
	shares := make([]float64, 2*limitPlaces)
	step := p.beam.Length() / limitPlaces
	for i := range limitPlaces {
		s := (float64(i) + 0.5) * step
		z := p.rod.held + s
		c := p.rod.pieceAt(z).at(z)
		if c.Allow == 0 {
			continue
		}
		strain := p.bareStrain(sh, s) * p.set.StrainFactor
		shares[i] = strain / c.Allow
		if folds, _ := c.wallLimit(); folds > 0 {
			shares[limitPlaces+i] = strain / folds
		}
	}
	return shares
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

// halfTurnReach is how far to either side of the half turn its curve goes, as a
// share of the free length.
const halfTurnReach = 0.1

// halfTurns is the half turn of rods bent much as this one: where more of the
// turn than a half has happened at its place, the half turn lies as far below it
// as in this rod the place where as much less than a half has.
func (w *worked) halfTurns() []Knot {
	sh, half := w.fine.third, 1-w.values["half-turn"]
	var curve []Knot
	add := func(s float64) {
		share := s / sh.Tip().S
		if math.Abs(share-half) < halfTurnReach {
			curve = append(curve, Knot{Part: 1 - turnUpTo(sh, share), Figure: 1 - share})
		}
	}
	for i := len(sh.S) - 1; i > 0; i-- { // from the tip, so that the part grows
		add(sh.S[i])
		add((sh.S[i] + sh.S[i-1]) / 2)
	}
	return curve
}
