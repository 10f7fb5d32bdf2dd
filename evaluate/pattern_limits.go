package evaluate

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"rodlore/evaluate/optim"
	"rodlore/models"
)

// What a layout keeps to:
//
//   - no spacing is shorter than the one nearer the tip;
//   - the first ring stands no nearer the tip than a quarter of the mean spacing
//     (common practice, no source);
//   - the whippings of neighbours do not touch;
//   - no whipping comes nearer to a joint, that is to where two tubes lie in each
//     other, than its own length.

// leastFirst is the first spacing's least share of the mean one.
const leastFirst = 0.25

// limit is one of them, as an inequality over the places that move.
type limit struct {
	optim.AtLeast
	kind  limitKind
	ring  int // that it holds back
	joint int
}

type limitKind int

const (
	growing  limitKind = iota // spacings grow towards the butt
	first                     // the first ring is not too near the tip
	apart                     // whippings do not touch
	offJoint                  // whippings are clear of joints
)

// side is the side of a joint that a ring keeps to.
type side struct {
	ring, joint int
	way         float64
}

const (
	towardsTip  = -1.
	towardsButt = 1.
)

// limits are all of them.
func (l *layout) limits(sides []side) []limit {
	n := len(l.at)
	if n < FewestRings { // none moves
		return nil
	}
	limits := []limit{l.limit(first, 0, leastFirst*l.at[n-1]/float64(n), -1, -1, 1)}
	for i := range n {
		limits = append(limits, l.limit(apart, i, l.buttward(i-1)+l.tipward(i)+l.marks.size, i-1, -1, 1))
		if i > 0 {
			limits = append(limits, l.limit(growing, i, 0, i-2, 1, -2, 1))
		}
	}
	for _, s := range sides {
		from, to := l.barred(s.ring, s.joint)
		c := l.limit(offJoint, s.ring, to, s.ring, 1)
		if s.way == towardsTip {
			c = l.limit(offJoint, s.ring, -from, s.ring, -1)
		}
		c.joint = s.joint
		limits = append(limits, c)
	}
	return limits
}

// limit is the inequality that the coefficients, by ring from the first on,
// times their places come to no less than the bound. The tip ring, −1, is at 0,
// and the last stays where it is.
func (l *layout) limit(kind limitKind, ring int, bound float64, from int, coefficients ...float64) limit {
	last := len(l.at) - 1
	for i, c := range coefficients {
		if from+i == last {
			bound -= c * l.at[last]
		}
	}
	row := l.gradient(from, coefficients...).RawVector().Data
	return limit{AtLeast: optim.AtLeast{Row: row, Bound: bound}, kind: kind, ring: ring}
}

// part is the part of a ring, of the tip ring for −1, and its whipping.
func (l *layout) part(ring int) (p *models.Part, whipping float64) {
	g := l.spec.Rings[0]
	if ring >= 0 {
		g = l.spec.Rings[l.after[ring]]
	}
	p = l.spec.Parts[g.Part.Text]
	return p, whippingOn(g, p)
}

// tipward and buttward are how far a ring's whippings reach from it to either
// side.
func (l *layout) tipward(ring int) float64 {
	p, whipping := l.part(ring)
	feet := footSpans(0, whipping, p)
	return feet[len(feet)-1].to
}

func (l *layout) buttward(ring int) float64 {
	p, whipping := l.part(ring)
	return -footSpans(0, whipping, p)[0].from
}

// barred is the stretch around a joint that a ring's middle may not be on, in
// whole divisions.
func (l *layout) barred(ring, joint int) (from, to float64) {
	at := l.spec.JointSpans()[joint]
	_, whipping := l.part(ring)
	above, below := at.From-whipping-l.buttward(ring), at.To+whipping+l.tipward(ring)
	return math.Floor(above/l.marks.size) * l.marks.size, math.Ceil(below/l.marks.size) * l.marks.size
}

// onJoint is the first of the rings that move which stands where it may not
// because of a joint; −1 where there is none.
func (l *layout) onJoint(at []float64) (ring, joint int) {
	for i, s := range at[:len(at)-1] {
		if joint := l.jointUnder(i, s); joint >= 0 {
			return i, joint
		}
	}
	return -1, -1
}

// jointUnder is the joint that a ring at s would stand on or too near to; −1
// where there is none.
func (l *layout) jointUnder(ring int, s float64) int {
	const rounding = 1e-6
	for joint := range l.spec.Joints {
		if from, to := l.barred(ring, joint); s > from+rounding && s < to-rounding {
			return joint
		}
	}
	return -1
}

// crampedError says that the rings do not fit, and which limits exclude each
// other.
type crampedError struct{ limits []limit }

func (e *crampedError) Error() string { return "the rings do not fit" }

// cramped makes a crampedError of one of the limits given.
func cramped(err error, limits []limit) error {
	var excluded *optim.IncompatibleError
	if !errors.As(err, &excluded) {
		return err
	}
	e := &crampedError{}
	for _, i := range excluded.Conflict {
		e.limits = append(e.limits, limits[i])
	}
	return e
}

// both is why neither of two ways leads on.
func both(a, b error) error {
	var one, other *crampedError
	if !errors.As(a, &one) || !errors.As(b, &other) {
		return errors.Join(a, b)
	}
	return &crampedError{slices.Concat(one.limits, other.limits)}
}

// tellCramped says in plain words why there is no room.
func (l *layout) tellCramped(e *crampedError) error {
	var joints []string
	kinds := map[limitKind]bool{}
	for _, c := range e.limits {
		if kinds[c.kind] = true; c.kind == offJoint {
			between := l.spec.Joints[c.joint].Between
			joints = append(joints, fmt.Sprintf("the joint of %s and %s", between[0], between[1]))
		}
	}
	slices.Sort(joints)
	var wants []string
	if kinds[apart] {
		wants = append(wants, "whippings that do not touch")
	}
	if kinds[growing] {
		wants = append(wants, "no spacing shorter than the one nearer the tip")
	}
	if kinds[first] {
		wants = append(wants, "the first ring not too near the tip")
	}
	if len(joints) > 0 {
		wants = append(wants, "whippings a whipping's length clear of "+strings.Join(slices.Compact(joints), " and of "))
	}
	d := l.set.Display()
	return fmt.Errorf("they do not fit between the tip and a butt ring %s from it: there is no room for %s; take fewer rings, shorter whippings or another place for the butt ring",
		d.Value("", "m", l.at[len(l.at)-1]), strings.Join(wants, ", "))
}
