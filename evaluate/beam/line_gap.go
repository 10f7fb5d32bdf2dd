package beam

import "math"

// stop is a place between two knots with how far the chord passes from the
// blank there.
type stop struct{ s, distance float64 }

// measure adds a chord to what is known of its span.
func (rt *route) measure(p *potential, i int, out *LineSpan) {
	c, from := p.line.chords[i], &p.line.knots[i]
	if from.ring != onBlank {
		out.Gap, out.Clearance = math.Inf(-1), math.Inf(1)
	}
	out.Tension = c.tension
	out.Length += c.length
	stops := rt.stops(p, i)
	largest, smallest := 0, 0
	for k, st := range stops {
		if st.distance > stops[largest].distance {
			largest = k
		}
		if st.distance < stops[smallest].distance {
			smallest = k
		}
	}
	out.Gap = max(out.Gap, rt.extreme(p, i, stops, largest, 1))
	out.Clearance = min(out.Clearance, rt.extreme(p, i, stops, smallest, -1))
}

// stops are the ends of a chord and the places of the blank between them. The
// part that is held, where it has a handle, is left out.
func (rt *route) stops(p *potential, i int) []stop {
	c, from, to := p.line.chords[i], &p.line.knots[i], &p.line.knots[i+1]
	first := max(from.s, 0)
	stops := []stop{{first, rt.distance(p, i, first)}}
	for _, pl := range rt.spans[c.span].places {
		if pl.s > first && pl.s < to.s {
			stops = append(stops, stop{pl.s, rt.distance(p, i, pl.s)})
		}
	}
	return append(stops, stop{to.s, rt.distance(p, i, to.s)})
}

// distance is how far a chord passes from the blank's surface at s, square to
// the chord and positive on its own side; where there is no surface it is from
// the centreline.
func (rt *route) distance(p *potential, i int, s float64) float64 {
	c, from := p.line.chords[i], &p.line.knots[i]
	d := -c.along.cross(p.centre(rt.rod, rt.nodes, rt.rod.placeAt(LineRing{S: s})).minus(from.at))
	if side := rt.spans[c.span].side; side != 0 {
		d *= side
	} else {
		d = math.Abs(d)
	}
	if rt.radius != nil {
		d -= rt.outermost(s)
	}
	return d
}

// extreme is the largest distance near a stop, or with a sign of −1 the
// smallest, by golden section between its neighbours (Kiefer 1953, Proc. Am.
// Math. Soc. 4:502).
func (rt *route) extreme(p *potential, i int, stops []stop, near int, sign float64) float64 {
	const (
		golden = 0.6180339887498949
		halves = 14 // to a thousandth of a part, which is well below 1e-8 m across
	)
	best := sign * stops[near].distance
	if len(stops) == 2 && p.line.knots[i].ring == onBlank && p.line.knots[i+1].ring == onBlank {
		return sign * best // the line lies on the blank
	}
	low, high := stops[max(near-1, 0)].s, stops[min(near+1, len(stops)-1)].s
	a, b := high-golden*(high-low), low+golden*(high-low)
	at, bt := sign*rt.distance(p, i, a), sign*rt.distance(p, i, b)
	for range halves {
		if at > bt {
			high, b, bt = b, a, at
			a = high - golden*(high-low)
			at = sign * rt.distance(p, i, a)
		} else {
			low, a, at = a, b, bt
			b = low + golden*(high-low)
			bt = sign * rt.distance(p, i, b)
		}
		best = max(best, at, bt)
	}
	return sign * best
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
		turn := between(t.chords[i-1].along, t.chords[i].along)
		end := k.asEnd()
		part := (rt.rod.elements[k.element].h + rt.rod.elements[end.element].h) / (2 * surfaceParts)
		if bend := math.Abs(ls.At(k.s).Curvature); turn < bend*part {
			part = turn / bend
		}
		ls.Spans[t.chords[i].span].Touch += part
	}
}
