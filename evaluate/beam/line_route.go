package beam

import (
	"fmt"
	"math"
	"slices"
)

// route is where a line may run on one rod: through the rings and, between
// them, around places of the blank's surface.
type route struct {
	rod      *Rod
	reel     LineRing   // as given
	given    []LineRing // as given
	friction float64
	radius   func(s float64) float64 // of the blank, nil where the line may cut it
	surface  any                     // tells radii apart
	beyond   vector                  // direction of the line beyond the tip ring
	rings    []place
	spans    []span
	placed   bool     // the spans have their places
	places   []place  // of all spans
	nodes    []vector // of the trial bend
	stops    []stop   // workspace of measure
}

// span is the line between two neighbouring rings, or the reel and the first.
type span struct {
	share  float64 // of the tension beyond the tip ring
	side   float64 // 1 where the line runs on the hollow side of the blank, −1 on the other, 0 where it changes over
	places []place // of the blank between the rings, where they are needed; at its surface, where there is one
}

// surfaceParts is how many straight parts the line sees of an element of mean
// length, and of longer ones more: it cuts into the true surface by κh²/8 at most, h
// being the length of a part.
const surfaceParts = 5

// surfacePartsOf is how many parts an element has.
func (r *Rod) surfacePartsOf(e int) int {
	mean := r.Length() / float64(len(r.elements))
	return int(math.Ceil(surfaceParts * r.elements[e].h / mean * (1 - 1e-9)))
}

// surfacePart is how long each of them is, m.
func (r *Rod) surfacePart(e int) float64 {
	return r.elements[e].h / float64(r.surfacePartsOf(e))
}

// newRoute is the route of a line on a rod. It takes up the workspace of another,
// which may be nil and is of no use any more.
func newRoute(r *Rod, l Line, spent *route) (*route, error) {
	rt := &route{
		rod: r, reel: l.Reel, given: slices.Clone(l.Rings), friction: l.Friction, radius: l.Radius, surface: l.Surface, beyond: direction(l.Direction),
		rings: make([]place, 0, len(l.Rings)+1), spans: make([]span, len(l.Rings)),
		nodes: make([]vector, len(r.nodes)),
	}
	rt.rings = append(rt.rings, r.placeAt(l.Reel))
	for i, ring := range l.Rings {
		rt.rings = append(rt.rings, r.placeAt(ring))
		rt.spans[i] = span{share: 1, side: sideOf(rt.rings[i].offset, ring.Offset)}
	}
	if rt.placed = l.Radius != nil || !l.LoadsOnly; rt.placed {
		if spent != nil {
			rt.places = spent.places[:0]
		}
		rt.places = slices.Grow(rt.places, (surfaceParts+1)*len(r.elements))
		for i := range rt.spans {
			from := len(rt.places)
			rt.places = rt.between(i, rt.places)
			rt.spans[i].places = rt.places[from:]
		}
	}
	if err := rt.cover(); err != nil {
		return nil, err
	}
	return rt, nil
}

// serves reports whether the route is that of another line as well, on that rod, but
// for its friction and direction.
func (rt *route) serves(r *Rod, l Line) bool {
	alike := rt.radius == nil && l.Radius == nil || rt.surface != nil && rt.surface == l.Surface
	return rt.rod == r && alike && (rt.placed || l.LoadsOnly) && rt.reel == l.Reel && slices.Equal(rt.given, l.Rings)
}

// relay makes the route that of a line it serves.
func (rt *route) relay(l Line) {
	rt.friction, rt.beyond = l.Friction, direction(l.Direction)
	for i := range rt.spans {
		rt.spans[i].share = 1
	}
}

// sideOf is the side of the blank that a line runs on from one offset to the
// other.
func sideOf(a, b float64) float64 {
	switch {
	case a == 0 && b == 0 || a*b < 0:
		return 0
	default:
		return math.Copysign(1, a+b)
	}
}

// cover takes the places between the rings to the blank's surface.
func (rt *route) cover() error {
	if rt.radius == nil {
		return nil
	}
	for i, ring := range rt.rings {
		if ring.element != held && !(math.Abs(ring.offset) >= rt.radius(ring.s)) {
			return fmt.Errorf("%s at %g m must hold the line clear of the blank: it stands %g m off the centreline, the surface %g m",
				ringName(i), ring.s, math.Abs(ring.offset), rt.radius(ring.s))
		}
	}
	for i := range rt.spans {
		for j := range rt.spans[i].places {
			pl := &rt.spans[i].places[j]
			out := rt.outermost(pl)
			if !(out >= 0) || math.IsInf(out, 0) {
				return fmt.Errorf("the blank's radius must be 0 or more, not %g m at %g m", out, pl.s)
			}
			pl.offset = math.Copysign(out, rt.spans[i].side)
		}
	}
	return nil
}

// ringName names a ring of a route, the first of which is the reel.
func ringName(i int) string {
	if i == 0 {
		return "the reel"
	}
	return fmt.Sprintf("ring %d", i-1)
}

// outermost is the radius at a place, and at a node, where the surface may have
// a step, the largest beside it.
func (rt *route) outermost(pl *place) float64 {
	if pl.u != 0 {
		return rt.radius(pl.s)
	}
	beside := joinTolerance * rt.rod.Length()
	return max(rt.radius(pl.s), rt.radius(max(pl.s-beside, 0)), rt.radius(min(pl.s+beside, rt.rod.Length())))
}

// innermost is the smallest radius beside a place.
func (rt *route) innermost(pl *place) float64 {
	if pl.u != 0 || rt.radius == nil {
		return math.Abs(pl.offset)
	}
	beside := joinTolerance * rt.rod.Length()
	return min(rt.radius(pl.s), rt.radius(max(pl.s-beside, 0)), rt.radius(min(pl.s+beside, rt.rod.Length())))
}

// between appends the places of the centreline that part the elements between
// the two ends of a span, the ends themselves left out.
func (rt *route) between(i int, places []place) []place {
	from, to := rt.rings[i], rt.rings[i+1]
	apart := joinTolerance * rt.rod.Length()
	for e := max(from.element, 0); e <= to.element; e++ {
		parts := rt.rod.surfacePartsOf(e)
		for part := range parts {
			pl := place{}.within(e, float64(part)/float64(parts))
			pl.s = rt.rod.nodes[e] + pl.u*rt.rod.elements[e].h
			if pl.s > from.s+apart && pl.s < to.s-apart {
				places = append(places, pl)
			}
		}
	}
	return places
}

// thread appends the knots of the line through the rings of a trial bend, reel
// first: the taut string, which is the shortest line that leaves the blank's
// surface on its own side of every span.
func (rt *route) thread(p *potential, st *state, knots []knot) []knot {
	p.nodesAt(rt.rod, rt.nodes)
	for i, ring := range rt.rings {
		next := rt.knot(p, st, ring)
		next.ring = i
		if i > 0 {
			knots = rt.wrap(p, st, &rt.spans[i-1], knots, next.at)
		}
		knots = append(knots, next)
	}
	return knots
}

// knot is where a place is in a trial bend.
func (rt *route) knot(p *potential, st *state, pl place) knot {
	k := knot{place: pl, at: p.centre(rt.rod, rt.nodes, &pl), normal: st.normalAt(&pl), ring: onBlank}
	k.at.x += pl.offset * k.normal.x
	k.at.y += pl.offset * k.normal.y
	return k
}

// wrap appends the knots at which the line touches the blank on its way from
// the last knot to the next ring: the convex hull of the places beyond the
// straight line, by one pass along it (Graham 1972, Inf. Process. Lett. 1:132).
func (rt *route) wrap(p *potential, st *state, sp *span, knots []knot, to vector) []knot {
	if rt.radius == nil || sp.side == 0 {
		return knots
	}
	first := len(knots) - 1
	from := knots[first].at
	way := to.minus(from)
	reach := way.length()
	for i := range sp.places {
		pl := &sp.places[i]
		beyond := sp.side * way.cross(p.centre(rt.rod, rt.nodes, pl).minus(from))
		if beyond+math.Abs(pl.offset)*reach <= 0 {
			continue // not even with the surface facing the line
		}
		k := rt.knot(p, st, *pl)
		if sp.side*way.cross(k.at.minus(from)) <= 0 {
			continue
		}
		knots = append(dropInner(knots, first, sp.side, k.at), k)
	}
	return dropInner(knots, first, sp.side, to)
}

// dropInner drops the knots after the first that a line on to the next place
// passes clear of.
func dropInner(knots []knot, first int, side float64, next vector) []knot {
	last := len(knots) - 1
	for ; last > first; last-- {
		before, at := knots[last-1].at, knots[last].at
		if side*at.minus(before).cross(next.minus(at)) < 0 {
			break
		}
	}
	return knots[:last+1]
}

// rub takes the shares of the tension anew from the turns of the line in the
// rings and gives the largest change: Euler's capstan, T₂ = T₁·e^{μφ} (Euler
// 1769, Mém. Acad. Berlin 18:265; Eytelwein 1808, Handbuch der Statik fester
// Körper), ring by ring from the tip.
func (rt *route) rub(t *lineTerms) float64 {
	change, share, out := 0.0, 1.0, rt.beyond
	if rt.friction == 0 {
		return 0
	}
	for c := len(t.chords) - 1; c >= 0; c-- {
		ch := &t.chords[c]
		if t.knots[c+1].ring != onBlank {
			share *= math.Exp(rt.friction * angle(ch.along, out))
			sp := &rt.spans[ch.span]
			change = max(change, math.Abs(share/sp.share-1))
			sp.share = share
		}
		out = ch.along
	}
	return change
}

// angle is the one between two directions, 0 to π.
func angle(a, b vector) float64 { return math.Abs(math.Atan2(a.cross(b), a.dot(b))) }
