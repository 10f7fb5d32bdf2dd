package beam

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// lineTerms are what a line adds to the potential of a trial bend: for every
// chord, straight from knot to knot, its tension times its length. With D the
// vector along the chord, ℓ its length, u its direction and v square to it,
//
//	δℓ = u·δD,  δ²ℓ = u·δ²D + (v·δD)²/ℓ,
//
// and D is a sum of ∫t ds over the rod between the knots and of their offsets,
// so that u·δ²D acts within the elements, like a load. Only the last term ties
// distant angles together: by one vector a chord, that of v·δD.
type lineTerms struct {
	knots  []knot
	chords []chord
	slope  state      // derivative of ∑ share·ℓ by the unknowns, m
	local  []lineBend // in the order of their elements
	ties   []tie      // of the chords that span more than one element
	across []float64  // of all ties, end to end
}

// chord is the straight line from one knot to the next.
type chord struct {
	along   vector // u
	length  float64
	tension float64 // N
	span    int
}

// lineBend is a part of the second variation within one element: value·w·wᵀ
// of its start, end and bubble.
type lineBend struct {
	element int
	shape   [3]float64
	value   float64
}

// tie is a part of the second variation across several elements: w·wᵀ.
type tie struct {
	first int   // element
	w     state // of the nodes and bubbles from there on
}

// clear leaves the terms of no line.
func (t *lineTerms) clear() {
	t.knots, t.chords, t.local, t.ties, t.across = t.knots[:0], t.chords[:0], t.local[:0], t.ties[:0], t.across[:0]
	clear(t.slope.all)
}

// addLine adds a line to the potential just worked out for the load.
func (p *potential) addLine(rt *route, tension float64, st *state) {
	t := &p.line
	if t.slope.turn == nil {
		t.slope = newState(rt.rod)
	}
	t.knots = rt.thread(p, st, t.knots)
	span := 0
	for i := range len(t.knots) - 1 {
		span = max(span, t.knots[i].ring)
		p.addChord(rt, tension, span, &t.knots[i], &t.knots[i+1])
	}
	t.slope.turn[0] = 0 // held by the clamp
	p.slope.add(p.slope, t.slope, tension)
}

// addChord adds the chord between two knots of a span.
func (p *potential) addChord(rt *route, tension float64, span int, a, b *knot) {
	way := b.at.minus(a.at)
	share := rt.spans[span].share
	c := chord{length: way.length(), tension: share * tension, span: span}
	c.along = way.times(1 / c.length)
	p.line.chords = append(p.line.chords, c)
	p.loads += c.tension * c.length
	end := b.asEnd()
	if end.element == held {
		return // at both ends
	}
	first := max(a.element, 0)
	w := p.line.newTie(first, end.element)
	if a.element != held {
		p.line.addOffset(a.place, a.normal, c, share, -1, w)
	}
	for e := first; e <= end.element; e++ {
		weight := gaussWeight
		if e == end.element {
			weight = end.upTo
		}
		if e == a.element {
			for j, before := range a.upTo {
				weight[j] -= before
			}
		}
		p.addStretch(e, rt.rod.elements[e].h, &weight, c, share, w)
	}
	p.line.addOffset(end, b.normal, c, share, 1, w)
	p.line.tieUp(w, c)
}

// addStretch adds what the part of an element between the knots of a chord
// contributes: ∫t ds, by the weights of its points.
func (p *potential) addStretch(e int, h float64, weight *[points]float64, c chord, share float64, w tie) {
	at := &p.tangent[e]
	var slope, across [3]float64
	for j := range points {
		wh := h * weight[j]
		ut := wh * (c.along.x*at.cos[j] + c.along.y*at.sin[j])
		un := wh * (c.along.y*at.cos[j] - c.along.x*at.sin[j])
		at.along[j] -= c.tension * ut
		slope[0] += un * shapeStart[j]
		slope[1] += un * shapeEnd[j]
		slope[2] += un * shapeBubble[j]
		across[0] += ut * shapeStart[j]
		across[1] += ut * shapeEnd[j]
		across[2] += ut * shapeBubble[j]
	}
	p.line.slope.addAt(e, slope, share)
	w.w.addAt(e-w.first, across, 1)
}

// addOffset adds what the offset of a chord's end contributes, h·n, with
// ∂n/∂θ = −t and ∂²n/∂θ² = −n. The sign is −1 at the chord's start.
func (t *lineTerms) addOffset(pl place, n vector, c chord, share, sign float64, w tie) {
	shape, out := shapes(pl.u), sign*pl.offset
	along, across := c.along.cross(n), c.along.dot(n) // u·t and u·n, t being (n.y, −n.x)
	t.slope.addAt(pl.element, shape, -share*out*along)
	w.w.addAt(pl.element-w.first, shape, out*across)
	t.local = append(t.local, lineBend{pl.element, shape, -c.tension * out * across})
}

// addAt adds k times the values of an element's start, end and bubble.
func (st *state) addAt(e int, values [3]float64, k float64) {
	st.turn[e] += k * values[0]
	st.turn[e+1] += k * values[1]
	st.bubble[e] += k * values[2]
}

// newTie is a tie of zeros from one element to another.
func (t *lineTerms) newTie(first, last int) tie {
	n := last - first + 1
	from := len(t.across)
	t.across = append(t.across, make([]float64, 2*n+1)...) // where this moves the buffer, older ties keep their part of the old one
	return tie{first, stateOf(t.across[from:])}
}

// tieUp puts a chord's tie where it belongs.
func (t *lineTerms) tieUp(w tie, c chord) {
	if w.first == 0 {
		w.w.turn[0] = 0 // held by the clamp
	}
	k := c.tension / c.length
	if len(w.w.bubble) == 1 {
		t.local = append(t.local, lineBend{w.first, [3]float64{w.w.turn[0], w.w.turn[1], w.w.bubble[0]}, k})
		return
	}
	floats.Scale(math.Sqrt(k), w.w.all)
	t.ties = append(t.ties, w)
}
