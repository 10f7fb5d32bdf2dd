package evaluate

import (
	"fmt"
	"slices"
	"strings"

	"rodlore/evaluate/beam"
)

// evenEnough is the worst turn over the mean one that counts as even: rings set
// a few millimetres off make as much.
const evenEnough = 1.05

// binding says what keeps a pattern from being even, and what it does not keep
// to; rings are those of the bent rod, the tip ring first.
func (l *layout) binding(rings []RingLoad) []string {
	d := l.set.Display()
	place := func(ring int) string { return d.Value("", "m", rings[ring+1].At) }
	said := slices.Concat(l.held(place), l.broken(place))
	if l.unrest > 0 {
		said = append(said, fmt.Sprintf("moved to where they share the turn, the rings bend the rod so that they would have to move again, by up to %s: this is the nearest to rest", d.Value("", "m", l.unrest)))
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
	name := "the ring at " + place(worst-1)
	if worst == len(rings)-1 {
		name = "the butt ring, whose place is given,"
	}
	return append(said, fmt.Sprintf("%s turns the line most, by %s; even shares would be %s",
		name, d.Value("", "rad", rings[worst].Turn), d.Value("", "rad", mean)))
}

// mostNamed places are named; more are counted.
const mostNamed = 3

// held says which limits held rings back.
func (l *layout) held(place func(ring int) string) []string {
	var said, even []string
	for _, c := range l.holding {
		switch c.kind {
		case growing:
			even = append(even, place(c.ring-1))
		case first:
			said = append(said, "the first ring is kept from the tip")
		case apart:
			said = append(said, fmt.Sprintf("the whippings at %s and %s are kept apart", place(c.ring-1), place(c.ring)))
		case offJoint:
			said = append(said, fmt.Sprintf("the ring at %s is kept clear of the joint of %s", place(c.ring), l.jointName(c.joint)))
		}
	}
	switch {
	case len(even) > mostNamed:
		said = append(said, fmt.Sprintf("the spacing is kept from shrinking towards the butt at %d rings", len(even)))
	case len(even) > 0:
		said = append(said, "the spacing is kept from shrinking towards the butt at "+strings.Join(even, ", "))
	}
	return said
}

// broken says which limits a pattern does not keep to, as one that was not laid
// out here may not.
func (l *layout) broken(place func(ring int) string) []string {
	var said []string
	for i := range l.at {
		if joint := l.jointUnder(i, l.at[i]); joint >= 0 {
			said = append(said, fmt.Sprintf("the ring at %s stands within a whipping's length of the joint of %s", place(i), l.jointName(joint)))
		}
	}
	for _, c := range l.limits(nil) {
		if c.Value(l.at[:len(l.at)-1]) >= c.Bound-2*l.marks.size { // both ends may be rounded
			continue
		}
		switch c.kind {
		case growing:
			said = append(said, "the spacing shrinks towards the butt below "+place(c.ring-1))
		case apart:
			said = append(said, fmt.Sprintf("the whippings at %s and %s touch", place(c.ring-1), place(c.ring)))
		}
	}
	return said
}

// jointName names the sections of a joint.
func (l *layout) jointName(joint int) string {
	j := l.spec.Joints[joint]
	return strings.Join([]string{j.Between[0].Text, j.Between[1].Text}, " and ")
}

// touching says where the line lies on the blank.
func (l *layout) touching(sh *beam.LineShape) []string {
	d := l.set.Display()
	var below []string
	for i, span := range slices.Backward(sh.Spans) {
		if span.Touch > 0 {
			ring := sh.Tip().S - sh.Rings[i].S
			below = append(below, fmt.Sprintf("%s (%s)", d.Value("", "m", ring), d.Value("", "m", span.Touch)))
		}
	}
	if below == nil {
		return nil
	}
	return []string{"the line lies on the blank below the rings at " + strings.Join(below, ", ")}
}
