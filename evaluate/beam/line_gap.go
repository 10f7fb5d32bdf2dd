package beam

import (
	"cmp"
	"math"
	"slices"
)

// stop is a place between two knots with how far the chord passes from the
// blank there.
type stop struct{ s, distance float64 }

// measure adds a chord to what is known of its span.
func (rt *route) measure(p *potential, st *state, i int, out *LineSpan) {
	if p.line.knots[i].ring != onBlank {
		out.Gap = math.Inf(-1)
	}
	out.Gap = max(out.Gap, rt.largest(p, st, i, rt.stopsOf(p, st, i)))
}

// stopsOf are the ends of a chord and the places of the blank between them, a
// step of its surface from both sides. The part that is held, where it has a
// handle, is left out.
func (rt *route) stopsOf(p *potential, st *state, i int) []stop {
	c, from, to := p.line.chords[i], &p.line.knots[i], &p.line.knots[i+1]
	first := max(from.s, 0)
	stops := append(rt.stops[:0], stop{first, rt.distanceAt(p, st, i, first)})
	for j := range rt.spans[c.span].places {
		pl := &rt.spans[c.span].places[j]
		if pl.s <= first || pl.s >= to.s {
			continue
		}
		lower := *pl
		lower.offset = math.Copysign(rt.innermost(pl), pl.offset)
		stops = append(stops, stop{pl.s, rt.distance(p, st, i, &lower)})
	}
	rt.stops = append(stops, stop{to.s, rt.distanceAt(p, st, i, to.s)})
	return rt.stops
}

// distance is how far a chord passes from a place of the surface, square to
// the chord and positive on its own side.
func (rt *route) distance(p *potential, st *state, i int, pl *place) float64 {
	c := &p.line.chords[i]
	off := c.along.cross(p.centre(rt.rod, rt.nodes, pl).minus(p.line.knots[i].at))
	side := rt.spans[c.span].side
	if side == 0 {
		return math.Abs(off) - pl.offset
	}
	return -side * (off + pl.offset*c.along.cross(st.normalAt(pl)))
}

// distanceAt is the distance at s.
func (rt *route) distanceAt(p *potential, st *state, i int, s float64) float64 {
	pl := rt.rod.placeAt(LineRing{S: s})
	if rt.radius != nil {
		pl.offset = math.Copysign(rt.radius(s), rt.spans[p.line.chords[i].span].side)
	}
	return rt.distance(p, st, i, &pl)
}

// largest is the largest distance: that of the stops or, between the farthest and a
// neighbour, where the parabola through three places has its vertex. The vertex is
// off by some h²·κ′/κ for stops h apart, which the distance there is not the worse
// for.
func (rt *route) largest(p *potential, st *state, i int, stops []stop) float64 {
	farthest := slices.MaxFunc(stops, func(a, b stop) int { return cmp.Compare(a.distance, b.distance) })
	best, near := farthest.distance, slices.Index(stops, farthest)
	if len(stops) == 2 {
		return best // nothing of the blank between, as where the line lies on it
	}
	for k := max(near-2, 0); k < min(near+2, len(stops)-1); k++ {
		// Clear of the ends, where the surface may have a step.
		const inside = 1e-6
		from, part := stops[k].s, stops[k+1].s-stops[k].s
		at := func(share float64) float64 { return rt.distanceAt(p, st, i, from+share*part) }
		if part <= joinTolerance*rt.rod.Length() {
			continue
		}
		a, b, c := at(inside), at(0.5), at(1-inside)
		best = max(best, a, b, c)
		if bend := a - 2*b + c; bend < 0 {
			if vertex := 0.5 + (a-c)/(4*bend); vertex > 0 && vertex < 1 {
				best = max(best, at(vertex))
			}
		}
	}
	return best
}

// touch works out how much of each span lies on the blank. A knot on the blank
// stands for the line between its neighbours; where it turns the line by less
// than the blank bends there, only for as much as the blank needs for that.
func (ls *LineShape) touch(rt *route, t *lineTerms) {
	for i := range t.knots {
		k := &t.knots[i]
		if k.ring != onBlank {
			continue
		}
		turn := angle(t.chords[i-1].along, t.chords[i].along)
		end := k.asEnd()
		part := (rt.rod.surfacePart(k.element) + rt.rod.surfacePart(end.element)) / 2
		if bend := math.Abs(ls.At(k.s).Curvature); turn < bend*part {
			part = turn / bend
		}
		ls.Spans[t.chords[i].span].Touch += part
		for _, beside := range []*knot{&t.knots[i-1], &t.knots[i+1]} {
			if beside.ring != onBlank || math.Abs(beside.s-k.s) > 1.5*part {
				ls.TouchError += part / 2
			}
		}
	}
}
