package evaluate

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"rodlore/evaluate/beam"
	"rodlore/evaluate/figures"
)

// composition holds what the figures of one rod are composed of, by key: of a
// figure that is composed of nothing the figure itself.
type composition map[string][]float64

// compose reads the parts of the figures from the solved cases of the spec of
// trials, or of one of these.
func (t *trials) compose(p *pass, v values, c *cases) composition {
	parts := make(composition, len(figures.All()))
	for key, value := range v {
		if !figures.Of(key).Exact {
			parts[key] = []float64{value}
		}
	}
	if c.line != nil {
		parts["ring-load-worst"] = ringLoads(c.line)
		parts["line-gap"] = gaps(c.line)
		if turns := wrapAngles(c.line); len(turns) > 1 {
			parts["ring-turn-spread"] = turns
		}
	}
	if c.test != nil {
		parts["strain-worst"] = pick(p.peaks(c.test, (*cross).strain)[0], t.strained)
	}
	if c.third != nil {
		parts["half-turn"] = []float64{turnUpTo(c.third, t.half)}
	}
	if c.limit != nil {
		parts["load-limit"] = t.limit.loads(p, c.limit)
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

// peak is the largest of something along a bent rod, and where that is: on a piece, m
// from the butt.
type peak struct {
	value float64
	*piece
	z float64
}

// peak is the largest of |κ|·per along a bent rod.
func (p *pass) peak(sh *beam.Shape, per func(*cross) float64) peak {
	return p.peaksOn(make([]int, len(p.rod.pieces)), 1, sh, per)[0][0]
}

// peaks are the largest of |κ|·per along a bent rod, for every per, by the rod's
// stretches, butt side first.
func (p *pass) peaks(sh *beam.Shape, pers ...func(*cross) float64) [][]peak {
	if p.trial == nil {
		stretches := p.rod.stretches()
		return p.peaksOn(stretches, stretches[len(stretches)-1]+1, sh, pers...)
	}
	all := p.trial.stretches // of the spec, which a trial may have one fewer than
	return p.peaksOn(p.rod.stretchesLike(p.trial.rod, all), all[len(all)-1]+1, sh, pers...)
}

// peaksOn are those on so many stretches, which are given by the pieces beyond the hold.
// The moment follows what rods differ by more smoothly than the curvature of a mesh does
// and can be read anywhere.
func (p *pass) peaksOn(stretches []int, n int, sh *beam.Shape, pers ...func(*cross) float64) [][]peak {
	free := p.rod.pieces[p.rod.firstFree():]
	moments := slices.Grow(p.moments[:0], len(free)*len(profileOf{}.at))
	for _, piece := range free {
		for _, z := range piece.profile().at {
			moments = append(moments, z-p.rod.held)
		}
	}
	sh.Moments(moments)
	p.moments = moments
	most := make([][]peak, len(pers))
	for j := range pers {
		most[j] = make([]peak, n)
	}
	var c cross // one for all places, since per may be any function and it is large
	for i, piece := range free {
		on := piece.profile()
		for k, per := range pers {
			for j, c := range on.cross {
				on.v[j] = math.Abs(moments[i*len(on.at)+j]) / c.EI * per(c)
			}
			on.raise(&most[k][stretches[i]], func(z float64) float64 {
				c = piece.walledAt(z)
				return math.Abs(sh.MomentAt(z-p.rod.held)) / c.EI * per(&c)
			})
		}
	}
	return most
}

// stretches numbers the stretches of the rod beyond the hold between its rings and
// the corners of its blank, by piece. On each the strain has one peak.
func (r *rod) stretches() []int {
	ends := []float64{}
	for _, g := range r.rings {
		ends = append(ends, g.z)
	}
	for _, m := range r.members {
		ends = append(append(ends, m.from, m.to), m.breaks...)
	}
	slices.Sort(ends)
	pieces := r.pieces[r.firstFree():]
	numbers := make([]int, len(pieces))
	passed := func(p *piece) int { return sort.SearchFloat64s(ends, p.middle()) }
	for i := range pieces[1:] {
		numbers[i+1] = numbers[i]
		if passed(pieces[i+1]) > passed(pieces[i]) {
			numbers[i+1]++
		}
	}
	return numbers
}

// stretchesLike numbers them as those of a like rod are, given its numbers. Where
// one of the two has a sliver more, of what ends in one place in the other, it
// goes by where pieces lie.
func (r *rod) stretchesLike(like *rod, numbers []int) []int {
	first, likeFirst := r.firstFree(), like.firstFree()
	if len(r.pieces)-first == len(numbers) {
		return numbers
	}
	var list []int
	for _, p := range r.pieces[first:] {
		list = append(list, numbers[max(like.indexAt(p.middle())-likeFirst, 0)])
	}
	return list
}

// profileOf is something that varies smoothly on a piece, where its cross-sections
// are known.
type profileOf struct {
	*piece
	at, v [len(gauss3) + 2]float64
	cross [len(gauss3) + 2]*cross
}

// profile gives the places.
func (p *piece) profile() (on profileOf) {
	on.piece = p
	on.at[0], on.cross[0] = p.from, &p.first
	for i := range p.stations {
		on.at[i+1], on.cross[i+1] = p.stations[i].z, &p.stations[i].cross
	}
	on.at[len(on.at)-1], on.cross[len(on.at)-1] = p.to, &p.last
	return on
}

// raise raises a peak to the largest of it, if that is more: that of the places known,
// or where the parabola through the highest and its neighbours has its top. There of
// is asked, but not where the parabola stays clearly below the peak, and twice more
// where the parabola through what was found has its own: the top moves with the
// inputs, and what a single parabola misses of it would pass for an effect.
func (on *profileOf) raise(most *peak, of func(z float64) float64) {
	const clearly = 1.01
	keep := func(v, z float64) {
		if v > most.value {
			*most = peak{v, on.piece, z}
		}
	}
	i := 0
	for j := range on.v {
		if on.v[j] > on.v[i] {
			i = j
		}
	}
	keep(on.v[i], on.at[i])
	i = min(max(i, 1), len(on.v)-2)
	at, v := [3]float64(on.at[i-1:i+2]), [3]float64(on.v[i-1:i+2])
	for range 3 {
		// Newton's form of the parabola.
		rise, fall := (v[1]-v[0])/(at[1]-at[0]), (v[2]-v[1])/(at[2]-at[1])
		bend := (fall - rise) / (at[2] - at[0])
		z := (at[0]+at[1])/2 - rise/(2*bend)
		if bend >= 0 || z <= at[0] || z >= at[2] || z == at[1] {
			break
		}
		if top := v[0] + (z-at[0])*(rise+bend*(z-at[1])); clearly*top <= most.value {
			break
		}
		here := of(z)
		keep(here, z)
		switch { // keep the highest of the four between its neighbours
		case z < at[1] && here > v[1]:
			at, v = [3]float64{at[0], z, at[1]}, [3]float64{v[0], here, v[1]}
		case z < at[1]:
			at[0], v[0] = z, here
		case here > v[1]:
			at, v = [3]float64{at[1], z, at[2]}, [3]float64{v[1], here, v[2]}
		default:
			at[2], v[2] = z, here
		}
	}
}

// farOff is how many times less than the worst a stretch may be that counts: near
// the tip the strain is next to nothing and follows the inputs wildly.
const farOff = 3

// pick gives the values of those of that index.
func pick(list []peak, indices []int) []float64 {
	picked := make([]float64, len(indices))
	for k, i := range indices {
		picked[k] = list[i].value
	}
	return picked
}

// highest are the indices of what is not far below the highest.
func highest(list []peak) (indices []int) {
	most := slices.MaxFunc(list, func(a, b peak) int { return cmp.Compare(a.value, b.value) })
	for i, one := range list {
		if one.value > most.value/farOff {
			indices = append(indices, i)
		}
	}
	return indices
}

// limitParts are what the load limit is made of: by the stretches of a rod, the
// loads at which their material comes to its limit, and then those at which the
// wall does, but for loads farOff times that of the first to come to it.
type limitParts struct {
	slopes []float64 // the power of the load with which the shares of the limits grow
	near   []int     // the parts
}

// limitParts finds them from the bend of a spec near its limit.
func (p *pass) limitParts(l *limitLoad) limitParts {
	parts := limitParts{slopes: p.limitSlopes(l)}
	for i := range parts.slopes {
		parts.near = append(parts.near, i)
	}
	loads := parts.loads(p, l)
	most := farOff * slices.Min(loads)
	parts.near = slices.DeleteFunc(parts.near, func(i int) bool { return !(loads[i] < most) })
	return parts
}

// limitSlopes are the powers of the load with which the shares grow about the
// limit.
func (p *pass) limitSlopes(l *limitLoad) []float64 {
	const more = 1.1
	below, lowErr := p.bendByConvention(l.bent / more)
	above, highErr := p.bendByConvention(l.bent * more)
	slopes := make([]float64, len(p.limitShares(l.Shape)))
	for i := range slopes {
		slopes[i] = usualSlope
	}
	if lowErr != nil || highErr != nil {
		return slopes
	}
	low, high := p.limitShares(below), p.limitShares(above)
	for i := range slopes {
		if slope := math.Log(high[i].value/low[i].value) / (2 * math.Log(more)); slope > leastSlope && slope < mostSlope {
			slopes[i] = slope
		}
	}
	return slopes
}

// loads are the parts, by a bend near the limit.
func (l *limitParts) loads(p *pass, at *limitLoad) []float64 {
	shares, loads := p.limitShares(at.Shape), make([]float64, len(l.near))
	for k, i := range l.near {
		loads[k] = at.bent * math.Pow(shares[i].value, -1/l.slopes[i])
	}
	return loads
}

// limitShares are the largest shares that the stretches bear of their material's
// limit, and then of their wall's.
func (p *pass) limitShares(sh *beam.Shape) []peak {
	peaks := p.peaks(sh, func(c *cross) float64 {
		if c.Allow == 0 {
			return 0
		}
		return c.strain() * p.set.StrainFactor / c.Allow
	}, func(c *cross) float64 {
		if c.Allow > 0 && c.Wall > 0 {
			return c.strain() * p.set.StrainFactor / c.Wall
		}
		return 0
	})
	return slices.Concat(peaks...)
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

// knotsPerElement are so many that a change between two rods, which is far
// smaller than either scatters by, does not show the chords between them.
const knotsPerElement = 8

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
		for k := range knotsPerElement {
			add(sh.S[i] + (sh.S[i-1]-sh.S[i])*float64(k)/knotsPerElement)
		}
	}
	return curve
}
