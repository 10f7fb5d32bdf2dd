package plan

import (
	"math"
	"slices"

	"rodlore/diffing"
	"rodlore/models"
)

// interpolate divides a blank or a handle into as many parts as keep to the
// limits, rounding included.
func (w *workshop) interpolate(t *track) {
	const tries = 5 // for what rounding makes too long
	if !alike(t.kind, w.Start.Model, w.Goal.Model) {
		t.never = Apart
		return
	}
	least := parts(math.Abs(t.sight.Size), t.sight.Limit)
	for t.parts = least; t.parts < least+tries; t.parts++ {
		if w.evenly(t) {
			t.most = max(1, int(t.sight.Limit/(math.Abs(t.sight.Size)/float64(t.parts))+1e-6))
			return
		}
	}
	t.never = Coarse
}

// evenly reports whether no part of a track exceeds a limit.
func (w *workshop) evenly(t *track) bool {
	before := w.Start
	for i := 1; i <= t.parts; i++ {
		s := w.partWay(t.kind, w.Start.Model, w.Goal.Model, float64(i)/float64(t.parts))
		for _, sight := range diffing.Visible(before, s, w.Limits) {
			if slices.Contains(aspects[t.kind], sight.Aspect) && sight.Over() {
				return false
			}
		}
		before = s
	}
	return true
}

// aspects are what a customer sees of a divided blank or handle.
var aspects = map[kind][]diffing.Aspect{
	blank:  {diffing.RodLength},
	handle: {diffing.HandleLength, diffing.ReelSeatPlace},
}

// partWay is the goal with its blank or handle a share of the way from the
// start's.
func (w *workshop) partWay(k kind, start, goal *models.Model, way float64) *models.Spec {
	m := *goal
	if k == blank {
		m.Between(start, goal, way, "length", "sections", "joints")
	} else {
		m.Handle, m.Reel = start.Handle, start.Reel
		m.Between(start, goal, way, "handle", "held")
		if start.Reel.At.Set() && goal.Reel.At.Set() {
			m.Reel.At = models.Between(start.Reel.At, goal.Reel.At, way)
		}
	}
	return w.resolved(&m)
}

// alike reports whether there is something in between: the same pieces, of which
// the same is given.
func alike(k kind, a, b *models.Model) bool {
	if k == handle {
		return sameSet(a.Handle.Seat.At, b.Handle.Seat.At) && slices.EqualFunc(a.Handle.Grips, b.Handle.Grips, func(x, y models.Grip) bool {
			return sameSet(x.Diameter, y.Diameter) && sameSet(x.Ends, y.Ends) && (x.Part.Text == "") == (y.Part.Text == "")
		})
	}
	return slices.EqualFunc(a.Sections, b.Sections, func(x, y models.Section) bool { return x.Alike(&y) }) && slices.EqualFunc(a.Joints, b.Joints, func(x, y models.Joint) bool {
		return x.Kind == y.Kind && sameSet(x.Gap, y.Gap) && sameSet(x.Outside, y.Outside) && sameSet(x.Wall, y.Wall) && sameSet(x.Mass, y.Mass) && sameSet(x.Whipping, y.Whipping)
	})
}

func sameSet[U ~float64](a, b models.Given[U]) bool { return a.Set() == b.Set() }
