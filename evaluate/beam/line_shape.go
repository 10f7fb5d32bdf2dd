package beam

import "math"

// LineShape is a rod bent in equilibrium by a line through its rings. The
// moments and curvatures of its Shape include what the line does to the rings
// and to the blank that it lies on.
type LineShape struct {
	*Shape
	Line  Line       // with the tension found
	Reel  RingLoad   // what the line does where it is made fast
	Rings []RingLoad // butt first, as in Line
	Spans []LineSpan // from the reel to the first ring, and so on to the tip ring

	Gap   float64 // m, the largest of those between rings; without the span to the reel
	Touch float64 // m, all that lies on the blank
	// TouchError bounds the error of Touch, m: where the line leaves the blank is
	// known to half a part of an element.
	TouchError float64
}

// RingLoad is what the line does to one ring, or to the reel.
type RingLoad struct {
	S     float64 // m from the clamp
	X, Y  float64 // m, where the line runs through
	Force float64 // N
	Turn  float64 // rad that the line turns in it, 0 to π; 0 at the reel
}

// LineSpan is the line between two neighbouring rings.
type LineSpan struct {
	// Gap is the largest distance from the blank, m: square to the line, from the
	// surface that the blank turns to it, or from the centreline where the Line has
	// no Radius.
	Gap   float64
	Touch float64 // m of the blank that it lies on
}

// lineShape adds to the bend just found what the line does.
func (s *Solver) lineShape(sh *Shape, l Line) *LineShape {
	l.Tension = sh.Load.Force
	ls := &LineShape{Shape: sh, Line: l}
	t := &s.pot.line
	sh.addLineMoments(t)
	ls.loadRings(t, s.route.beyond)
	if !l.LoadsOnly {
		s.measureSpans(ls, t)
	}
	return ls
}

// measureSpans measures the line between the rings.
func (s *Solver) measureSpans(ls *LineShape, t *lineTerms) {
	ls.Spans = make([]LineSpan, len(ls.Line.Rings))
	s.pot.nodesAt(s.rod, s.route.nodes)
	for i := range t.chords {
		s.route.measure(&s.pot, &s.state, i, &ls.Spans[t.chords[i].span])
	}
	ls.touch(s.route, t)
	for i, span := range ls.Spans {
		ls.Touch += span.Touch
		if i > 0 {
			ls.Gap = max(ls.Gap, span.Gap)
		}
	}
}

// loadRings works out the loads on the rings from the line on either side, and
// beyond the tip ring in that direction.
func (ls *LineShape) loadRings(t *lineTerms, beyond vector) {
	loads := make([]RingLoad, 0, len(ls.Line.Rings)+1)
	for i := range t.knots {
		k := &t.knots[i]
		if k.ring == onBlank {
			continue
		}
		in, out := chord{}, chord{along: beyond, tension: ls.Line.Tension}
		if k.ring > 0 {
			in = t.chords[i-1]
		}
		if i < len(t.chords) {
			out = t.chords[i]
		}
		force := out.pull().minus(in.pull()).length()
		loads = append(loads, RingLoad{S: k.s, X: k.at.x, Y: k.at.y, Force: force, Turn: angle(in.along, out.along)})
	}
	ls.Reel, ls.Rings = loads[0], loads[1:]
}

// pull is the tension of a chord along it.
func (c chord) pull() vector { return c.along.times(c.tension) }

// force is that of the line at a knot, without the line beyond the tip ring.
func (t *lineTerms) force(knot int) vector {
	var in, out chord
	if knot > 0 {
		in = t.chords[knot-1]
	}
	if knot < len(t.chords) {
		out = t.chords[knot]
	}
	return out.pull().minus(in.pull())
}

// wrench is a sum of forces, with their moment about the clamp.
type wrench struct {
	force  vector
	moment float64
}

func (w *wrench) add(force, at vector) {
	w.force = vector{w.force.x + force.x, w.force.y + force.y}
	w.moment += at.cross(force)
}

// about is the moment about another point.
func (w *wrench) about(at vector) float64 { return w.moment - at.cross(w.force) }

// addLineMoments adds to every node what the line's forces beyond it do there.
func (sh *Shape) addLineMoments(t *lineTerms) {
	sh.linePull = make([]linePull, len(sh.S))
	var beyond wrench
	next := len(t.knots) - 1
	gather := func(from float64) {
		for ; next >= 0 && t.knots[next].position() >= from; next-- {
			beyond.add(t.force(next), t.knots[next].at)
		}
	}
	for i := len(sh.S) - 1; i >= 0; i-- {
		at := vector{sh.X[i], sh.Y[i]}
		gather(math.Nextafter(float64(i), math.Inf(1)))
		after, pullAfter := beyond.about(at), beyond.force
		gather(float64(i))
		sh.linePull[i] = linePull{before: beyond.force, after: pullAfter}
		sh.setSides(i, sh.Moment[i].Before+beyond.about(at), sh.Moment[i].After+after)
	}
	tip := len(sh.S) - 1
	sh.Moment[tip].After = sh.Moment[tip].Before
}

// linePull is the force of a line on what lies beyond a node, just before it
// and just after it, seen from the clamp.
type linePull struct{ before, after vector }

// position is where a place is among the nodes: halfway between the nodes 3
// and 4 it is 3.5.
func (p place) position() float64 { return float64(p.element) + p.u }
