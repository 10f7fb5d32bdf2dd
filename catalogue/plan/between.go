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
		m.Sections, m.Joints = sectionsBetween(start, goal, way), jointsBetween(start, goal, way)
		m.Length = models.Between(start.Length, goal.Length, way)
	} else {
		m.Handle, m.Held, m.Reel = handleBetween(start.Handle, goal.Handle, way), start.Held, start.Reel
		if start.Held.Set() && goal.Held.Set() {
			m.Held = models.Between(start.Held, goal.Held, way)
		}
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
	return slices.EqualFunc(a.Sections, b.Sections, alikeSections) && slices.EqualFunc(a.Joints, b.Joints, func(x, y models.Joint) bool {
		return x.Kind == y.Kind && sameSet(x.Gap, y.Gap) && sameSet(x.Outside, y.Outside) && sameSet(x.Wall, y.Wall) && sameSet(x.Mass, y.Mass) && sameSet(x.Whipping, y.Whipping)
	})
}

func sameSet[U ~float64](a, b models.Given[U]) bool { return a.Set() == b.Set() }

// alikeSections compares two sections. Plies are not divided, only the mandrel
// that they are rolled on.
func alikeSections(a, b models.Section) bool {
	if a.Name.Text != b.Name.Text || len(a.Tube) != len(b.Tube) || len(a.Stiffness) != len(b.Stiffness) || len(a.Hexagon) != len(b.Hexagon) || (a.Rolled == nil) != (b.Rolled == nil) {
		return false
	}
	return a.Rolled == nil || len(a.Rolled.Mandrel) == len(b.Rolled.Mandrel) && slices.EqualFunc(a.Rolled.Plies, b.Rolled.Plies, func(x, y models.Ply) bool {
		return x.Material.Text == y.Material.Text && x.Angle.Value == y.Angle.Value && x.TipWraps == y.TipWraps && x.ButtWraps == y.ButtWraps &&
			sameSet(x.From, y.From) && sameSet(x.To, y.To)
	})
}

func handleBetween(a, b models.Handle, way float64) models.Handle {
	a.Seat.At = models.Between(a.Seat.At, b.Seat.At, way)
	a.Grips = slices.Clone(a.Grips)
	for i := range a.Grips {
		g, to := &a.Grips[i], b.Grips[i]
		g.From, g.To = models.Between(g.From, to.From, way), models.Between(g.To, to.To, way)
		g.Diameter, g.Ends = models.Between(g.Diameter, to.Diameter, way), models.Between(g.Ends, to.Ends, way)
	}
	return a
}

func sectionsBetween(a, b *models.Model, way float64) []models.Section {
	sections := slices.Clone(a.Sections)
	for i := range sections {
		s, to := &sections[i], b.Sections[i]
		s.Length = models.Between(s.Length, to.Length, way)
		s.Tube = slices.Clone(s.Tube)
		for j := range s.Tube {
			t, to := &s.Tube[j], to.Tube[j]
			t.At, t.Outside, t.Wall = models.Between(t.At, to.At, way), models.Between(t.Outside, to.Outside, way), models.Between(t.Wall, to.Wall, way)
		}
		s.Hexagon = slices.Clone(s.Hexagon)
		for j := range s.Hexagon {
			t, to := &s.Hexagon[j], to.Hexagon[j]
			t.At, t.Flats, t.Hollow = models.Between(t.At, to.At, way), models.Between(t.Flats, to.Flats, way), models.Between(t.Hollow, to.Hollow, way)
		}
		s.Stiffness = slices.Clone(s.Stiffness)
		for j := range s.Stiffness {
			t, to := &s.Stiffness[j], to.Stiffness[j]
			t.At, t.Outside = models.Between(t.At, to.At, way), models.Between(t.Outside, to.Outside, way)
			t.EI, t.Mass = models.Between(t.EI, to.EI, way), models.Between(t.Mass, to.Mass, way)
		}
		if s.Rolled != nil {
			s.Rolled = rolledBetween(s.Rolled, to.Rolled, way)
		}
	}
	return sections
}

func rolledBetween(a, b *models.Rolled, way float64) *models.Rolled {
	r := *a
	r.Mandrel, r.Plies = slices.Clone(r.Mandrel), slices.Clone(r.Plies)
	for i := range r.Mandrel {
		m, to := &r.Mandrel[i], b.Mandrel[i]
		m.At, m.Diameter = models.Between(m.At, to.At, way), models.Between(m.Diameter, to.Diameter, way)
	}
	for i := range r.Plies {
		p, to := &r.Plies[i], b.Plies[i]
		p.From, p.To = models.Between(p.From, to.From, way), models.Between(p.To, to.To, way)
	}
	return &r
}

func jointsBetween(a, b *models.Model, way float64) []models.Joint {
	joints := slices.Clone(a.Joints)
	for i := range joints {
		j, to := &joints[i], b.Joints[i]
		j.Length, j.Gap = models.Between(j.Length, to.Length, way), models.Between(j.Gap, to.Gap, way)
		j.Outside, j.Wall = models.Between(j.Outside, to.Outside, way), models.Between(j.Wall, to.Wall, way)
		j.Mass, j.Whipping = models.Between(j.Mass, to.Mass, way), models.Between(j.Whipping, to.Whipping, way)
	}
	return joints
}
