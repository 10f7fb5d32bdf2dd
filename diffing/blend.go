package diffing

import (
	"cmp"
	"maps"
	"slices"

	"rodlore/models"
	"rodlore/models/units"
)

// Blend gives the old spec with some of the edits that lead to the new one made:
// a whole spec that passes the checks of one that is read, or the faults that
// keep it from being a rod. Without any group it is the old spec, with all of
// them the new one.
//
// What belongs to several groups at once goes by these rules.
//
//   - Sections and joints are taken whole, and what is cut of a section for a joint
//     goes with the joint. Where the blank is divided into other
//     sections, by name or order, they all are one group, with what was fitted to a
//     rod, which names them.
//   - A stated length that the sections no longer come to is replaced by what
//     they come to.
//   - A ring has its place by the ring pattern, its part by the ring parts and
//     the length of its whipping by the finish. One that only one side has
//     brings its own, but where the parts of the other side are wanted it has
//     that of the nearest running ring there.
//   - Of a bare blank and a rod, all that is mounted is of either.
//   - Rings that would stand on the handle or beyond the butt make room: all of
//     them keep their share of the length between tip and handle.
//   - A shared part or material that both sides use is the old or the new one
//     by its own group, whoever uses it.
func Blend(old, now *models.Spec, taken map[Group]bool) (*models.Spec, error) {
	return newBlender(Compare(old, now)).blend(taken)
}

// AsKnown is the old rod with what is known of it by the new spec: what was read of
// its blank or fitted to a rod since then, which made no other rod. It is nil where
// there is nothing of that, or where the blank is another.
func AsKnown(old, now *models.Spec) *models.Spec {
	c := Compare(old, now)
	taken := map[Group]bool{}
	for _, e := range Edits(c.Changes()) {
		switch {
		case e.Group.Kind == BlankKind || e.Group == Sections:
			return nil
		case e.Group == BlankRead || e.Group == Fitted:
			taken[e.Group] = true
		}
	}
	if len(taken) == 0 {
		return nil
	}
	known, err := newBlender(c).blend(taken)
	if err != nil {
		return nil // what was read of the one does not go with the other
	}
	return known
}

// blender makes blends of two specs. It may be used concurrently.
type blender struct {
	old, new *models.Spec
	divided  bool
	sections []Group        // of old.Sections, where they are not divided otherwise
	read     Group          // of what was read of a bought blank
	rings    []models.Match // of old.Rings and new.Rings, from the tip
	// reparted says whether a ring that both sides have is of another part.
	reparted bool
}

func newBlender(c *Comparison) *blender {
	b := &blender{old: c.Old, new: c.New, divided: divided(c.Old, c.New), rings: c.RingPairs()}
	for _, s := range c.Old.Sections {
		b.sections = append(b.sections, c.SectionGroup(s.Name.Text))
	}
	b.read = c.groupAt(models.Segment{Key: "blank"}, BlankRead)
	b.reparted = slices.ContainsFunc(b.rings, func(r models.Match) bool {
		return r.Old >= 0 && r.New >= 0 && c.Old.Rings[r.Old].Part.Text != c.New.Rings[r.New].Part.Text
	})
	return b
}

func (b *blender) side(isNew bool) *models.Spec {
	if isNew {
		return b.new
	}
	return b.old
}

func (b *blender) blend(taken map[Group]bool) (*models.Spec, error) {
	m := *b.side(taken[Wording]).Model
	handle, settings := b.side(taken[Handle]), b.side(taken[Settings])
	m.Handle, m.Held, m.Reel = handle.Handle, handle.Held, handle.Reel
	m.Casts, m.Line, m.Wants, m.Tolerances = settings.Casts, settings.Line, settings.Wants, settings.Tolerances
	m.Finish = b.side(taken[Finish]).Finish
	mounted := b.side(taken[Mounted])
	m.Bare = mounted.Bare
	if b.old.Bare != b.new.Bare {
		m.Handle, m.Held, m.Reel, m.Finish = mounted.Handle, mounted.Held, mounted.Reel, mounted.Finish
	}
	if !m.ForFly() {
		m.Line.Class = 0 // which another reel has none of
	}
	m.Blank = b.side(taken[b.read]).Blank
	b.blendBlank(&m, taken)
	m.Tops = b.old.Tops // no figure of the rod hangs on them
	for group, is := range taken {
		if is && group.Kind == TopKind {
			m.Tops = b.new.Tops
		}
	}
	m.Length = b.side(taken[StatedLength]).Length
	if !m.LengthFits() {
		m.Length = models.Millimetres(units.Length(m.TotalLength()))
	}
	m.Rings = mounted.Rings
	if b.old.Bare == b.new.Bare {
		m.Rings = b.blendRings(taken)
	}
	parts, materials := pick(b.old.Parts, b.new.Parts, taken), pick(b.old.Materials, b.new.Materials, taken)
	makeRoom(&models.Spec{Model: &m, Parts: parts}, b.side(taken[RingPattern]))
	if err := m.Check(); err != nil {
		return nil, err
	}
	return models.Resolve(&m,
		&models.Parts{All: slices.Collect(maps.Values(parts))},
		&models.Materials{All: slices.Collect(maps.Values(materials))})
}

// blendBlank sets the sections and what names them.
func (b *blender) blendBlank(m *models.Model, taken map[Group]bool) {
	if b.divided {
		side := b.side(taken[Sections])
		m.Sections, m.Joints, m.Fitted = side.Sections, side.Joints, side.Fitted
		return
	}
	m.Sections = make([]models.Section, len(b.old.Sections))
	for i, group := range b.sections {
		m.Sections[i] = b.side(taken[group]).Sections[i]
	}
	m.Joints, m.Fitted = b.side(taken[Joints]).Joints, b.side(taken[Fitted]).Fitted
}

// pick gives the shared entries that either side uses; those that both use by
// their group.
func pick[T any](old, now map[string]*T, taken map[Group]bool) map[string]*T {
	all := maps.Clone(old)
	for name, entry := range now {
		if _, both := old[name]; !both || taken[SharedBy(name)] {
			all[name] = entry
		}
	}
	return all
}

// blendRings gives the rings, of which pattern, parts and whippings may be of
// different sides.
func (b *blender) blendRings(taken map[Group]bool) []models.Ring {
	placed, whipped := taken[RingPattern], taken[Finish]
	parted := taken[RingParts]
	if !b.reparted {
		parted = placed // the parts differ in rings that only one side has
	}
	own, other := b.side(placed).Rings, b.side(!placed).Rings
	var rings []models.Ring
	for _, p := range b.rings {
		i, j := p.Old, p.New
		if placed {
			i, j = j, i
		}
		if i < 0 {
			continue
		}
		ring := own[i]
		switch {
		case parted == placed:
		case j >= 0:
			ring.Part = other[j].Part
		default:
			ring.Part = nearest(ring, other).Part
		}
		if whipped != placed && j >= 0 {
			ring.Whipping = other[j].Whipping
		}
		rings = append(rings, ring)
	}
	return rings
}

// nearest is the running ring among others that stands nearest to a ring; the
// ring itself if there is none.
func nearest(ring models.Ring, others []models.Ring) models.Ring {
	if len(others) == 1 {
		return ring
	}
	away := func(r models.Ring) units.Length { return max(r.At.Value-ring.At.Value, ring.At.Value-r.At.Value) }
	return slices.MinFunc(others[1:], func(a, b models.Ring) int { return cmp.Compare(away(a), away(b)) })
}

// makeRoom keeps the rings off the handle, where the pattern is that of a rod
// with more room before it.
func makeRoom(s, pattern *models.Spec) {
	room, had := beforeHandle(s), beforeHandle(pattern)
	// The rings of a sound pattern have room enough, but for rounding.
	if room >= had || s.Bare || buttRing(s).At.Value <= room {
		return
	}
	for i, r := range s.Rings {
		s.Rings[i].At = models.Millimetres(r.At.Value * room / had)
	}
}

// beforeHandle is the length between tip and handle.
func beforeHandle(s *models.Spec) units.Length {
	return s.Length.Value - units.Length(s.HandleFront())
}
