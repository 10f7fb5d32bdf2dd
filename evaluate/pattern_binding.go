package evaluate

import (
	"slices"

	"rodlore/evaluate/beam"
)

// evenEnough is the worst turn over the mean one that counts as even: rings set
// a few millimetres off make as much.
const evenEnough = 1.05

// binding says what keeps a pattern from being even, and what it does not keep
// to; rings are those of the bent rod, the tip ring first.
func (l *layout) binding(rings []RingLoad) []Note {
	place := func(ring int) Quantity { return quantity("m", rings[ring+1].At) }
	said := slices.Concat(l.held(place), l.broken(place))
	if l.unrest > 0 {
		said = append(said, NewNote("binding.unrest", "by", quantity("m", l.unrest)))
	}
	worst, mean := 1, 0.0
	for i, g := range rings[1:] {
		mean += g.Turn / float64(len(rings)-1)
		if g.Turn > rings[worst].Turn {
			worst = i + 1
		}
	}
	if rings[worst].Turn <= evenEnough*mean {
		return said
	}
	key := "binding.uneven"
	if worst == len(rings)-1 {
		key = "binding.uneven butt ring"
	}
	return append(said, NewNote(key, "place", place(worst-1), "turn", quantity("rad", rings[worst].Turn), "mean", quantity("rad", mean)))
}

// mostNamed places are named; more are counted.
const mostNamed = 3

// held says which limits held rings back.
func (l *layout) held(place func(ring int) Quantity) []Note {
	var said []Note
	var even []Quantity
	for _, c := range l.holding {
		switch c.kind {
		case growing:
			even = append(even, place(c.ring-1))
		case first:
			said = append(said, NewNote("binding.first"))
		case apart:
			said = append(said, NewNote("binding.apart", "upper", place(c.ring-1), "lower", place(c.ring)))
		case offJoint:
			said = append(said, onJoint(l.spec.Joints[c.joint], "binding.off joint", "place", place(c.ring)))
		}
	}
	switch {
	case len(even) > mostNamed:
		said = append(said, NewNote("binding.spacings", "n", len(even)))
	case len(even) > 0:
		said = append(said, NewNote("binding.spacing", "places", even))
	}
	return said
}

// broken says which limits a pattern does not keep to, as one that was not laid
// out here may not.
func (l *layout) broken(place func(ring int) Quantity) []Note {
	var said []Note
	for i := range l.at {
		if joint := l.jointUnder(i, l.at[i]); joint >= 0 {
			said = append(said, onJoint(l.spec.Joints[joint], "binding.on joint", "place", place(i)))
		}
	}
	for _, c := range l.limits(nil) {
		if c.Value(l.at[:len(l.at)-1]) >= c.Bound-2*l.marks.size { // both ends may be rounded
			continue
		}
		switch c.kind {
		case growing:
			said = append(said, NewNote("binding.shrinks", "place", place(c.ring-1)))
		case apart:
			said = append(said, NewNote("binding.touch", "upper", place(c.ring-1), "lower", place(c.ring)))
		}
	}
	return said
}

// touching says where the line lies on the blank.
func (l *layout) touching(sh *beam.LineShape) []Note {
	var below []Note
	for i, span := range slices.Backward(sh.Spans) {
		if span.Touch > 0 {
			below = append(below, NewNote("binding.line below", "place", quantity("m", sh.Tip().S-sh.Rings[i].S), "over", quantity("m", span.Touch)))
		}
	}
	if below == nil {
		return nil
	}
	return []Note{NewNote("binding.line", "rings", below)}
}
