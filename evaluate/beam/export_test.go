package beam

import "math"

// Strung is what a solver knows of the bend that it found last, and of the line in
// it, that no caller needs.
type Strung struct {
	Energy float64 // stored by the bend, ½∫EI κ² ds, J
	Length float64 // m of line from the reel to the tip ring
	Spans  []StrungSpan
	Loads  [][2]float64 // N, components of what bears on the reel and on every ring
}

// StrungSpan is the line between two neighbouring rings.
type StrungSpan struct {
	Length, Tension float64 // m, N
	// Clearance is the smallest distance from the blank, m; below 0 where the line
	// runs through it.
	Clearance float64
}

// Steps is how many Newton steps the last bend took.
func (s *Solver) Steps() int { return s.steps }

// Strung looks at the last bend.
func (s *Solver) Strung() Strung {
	t, rt := &s.pot.line, s.lastRoute
	out := Strung{Energy: s.pot.bending}
	if rt == nil {
		return out
	}
	out.Spans = make([]StrungSpan, len(rt.spans))
	s.pot.nodesAt(s.rod, rt.nodes)
	for i, c := range t.chords {
		span := &out.Spans[c.span]
		if t.knots[i].ring != onBlank {
			span.Clearance = math.Inf(1)
		}
		span.Tension = c.tension
		span.Length += c.length
		out.Length += c.length
		const samples = 200
		from, to := max(t.knots[i].s, 0), t.knots[i+1].s
		for k := range samples + 1 {
			at := from + (to-from)*float64(k)/samples
			span.Clearance = min(span.Clearance, rt.distanceAt(&s.pot, &s.state, i, at))
		}
	}
	for i := range t.knots {
		if t.knots[i].ring == onBlank {
			continue
		}
		force := t.force(i)
		if i == len(t.knots)-1 {
			force = rt.beyond.times(t.chords[i-1].tension / rt.spans[len(rt.spans)-1].share).minus(t.chords[i-1].pull())
		}
		out.Loads = append(out.Loads, [2]float64{force.x, force.y})
	}
	return out
}

// CastToTheEnd works a cast through as Cast does, with the account at its end, when
// the lead is still in flight.
func (r *Rod) CastToTheEnd(c Cast) (*Flight, Account, error) {
	run, err := r.cast(c)
	if err != nil {
		return nil, Account{}, err
	}
	return run.flight, run.motion.account, nil
}

// DampingOf is that of a swing as a share of critical, by its frequency and the time
// in which it falls to a tenth.
func DampingOf(s Swing) float64 {
	decay := math.Ln10 / s.Settle
	return decay / math.Hypot(decay, 2*math.Pi*s.Frequency)
}
