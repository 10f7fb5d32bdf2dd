package plan

import (
	"math"
	"slices"

	"rodlore/diffing"
	"rodlore/models"
)

// kind is how a track is divided.
type kind int

const (
	whole     kind = iota
	ringCount      // ring by ring
	buttPlace      // the butt ring, in equal parts of its way
	buttSize       // size by size of the rings that the maker has
	blank          // sections and joints, in equal parts of their differences
	handle         // the same of the handle
)

// track is one edit, made at once or in several parts.
type track struct {
	kind   kind
	names  []string // of what it changes, for people
	parts  int
	most   int             // parts that one release allows
	groups []diffing.Group // that are made with the last part
	sight  diffing.Sight   // that divides it
	never  Never           // why it can never be made
}

// fewest is how many releases the track takes by itself.
func (t *track) fewest() int { return (t.parts + t.most - 1) / t.most }

func (t *track) stop() Stop {
	if t.never != "" {
		return Stop{Sight: t.sight, Never: t.never}
	}
	return Stop{Sight: t.sight, Releases: t.fewest()}
}

// layTracks finds the edits between start and goal. What is seen of them beyond
// its limit divides them.
func (w *workshop) layTracks() {
	for _, s := range w.compared.Sights() {
		if s.Over() {
			w.divide(s)
		}
	}
	for _, e := range diffing.Edits(w.compared.Changes()) {
		// Colours show, though no figure hangs on them.
		if e.Silent() && e.Group != diffing.Finish || w.divided(e) {
			continue
		}
		w.tracks = append(w.tracks, track{kind: whole, names: []string{e.Group.String()}, parts: 1, most: 1, groups: []diffing.Group{e.Group}})
	}
	w.joinLengths()
}

// joinLengths makes one track of the edits at once that make the rod longer or
// shorter each by itself: sections and the joints between them, which are cut to
// one length.
func (w *workshop) joinLengths() {
	var joined track
	var others []track
	for _, t := range w.tracks {
		if !w.lengthens(t) {
			others = append(others, t)
			continue
		}
		joined.names = append(joined.names, t.names...)
		joined.groups = append(joined.groups, t.groups...)
	}
	if len(joined.names) > 1 {
		joined.parts, joined.most = 1, 1
		w.tracks = append(others, joined)
	}
}

// lengthens reports whether an edit alone makes another length of the rod.
func (w *workshop) lengthens(t track) bool {
	if t.kind != whole {
		return false
	}
	m := *w.Start.Model
	m.Sections, m.Joints = slices.Clone(m.Sections), slices.Clone(m.Joints)
	for _, g := range t.groups {
		switch g {
		case diffing.Sections:
			m.Sections, m.Joints = w.Goal.Sections, w.Goal.Joints
		case diffing.Joints:
			m.Joints = w.Goal.Joints
		}
		for i, s := range m.Sections {
			if g == w.compared.SectionGroup(s.Name.Text) {
				m.Sections[i] = w.Goal.Sections[i]
			}
		}
	}
	const seen = 0.5e-3
	return math.Abs(m.TotalLength()-w.Start.TotalLength()) > seen
}

// mostParts is how many parts a state can count.
const mostParts = math.MaxUint8

// divide lays the track of something that changes by more than one release
// allows.
func (w *workshop) divide(s diffing.Sight) {
	t := track{names: []string{string(s.Aspect)}, sight: s, most: 1, parts: 1}
	switch s.Aspect {
	case diffing.RingCount:
		t.kind, t.parts = ringCount, int(math.Abs(s.Size))
	case diffing.ButtRingSize:
		t.kind, t.parts = buttSize, int(math.Abs(s.Size))
		w.chooseButts(t.parts)
	case diffing.ButtRingPlace:
		t.kind, t.parts = buttPlace, parts(math.Abs(s.Size)+w.rounding(), s.Limit)
	case diffing.RodLength:
		t.kind, t.groups = blank, w.blankGroups()
	case diffing.HandleLength, diffing.ReelSeatPlace:
		t.kind, t.groups = handle, []diffing.Group{diffing.Handle}
	case diffing.ButtRingCount:
		return // it follows from the others
	default:
		t.never = Whole
	}
	switch {
	case s.Limit == 0:
		t.never = Fixed
	case t.parts > mostParts:
		t.never = Long
	case t.kind == blank, t.kind == handle:
		if w.has(t.kind) {
			return
		}
		w.interpolate(&t)
	case t.kind != whole:
		t.most = max(1, int(s.Limit/(math.Abs(s.Size)/float64(t.parts))+1e-6))
	}
	w.tracks = append(w.tracks, t)
}

// parts is how many equal parts of at most that size make a whole.
func parts(size, most float64) int {
	if most == 0 {
		return 1
	}
	return int(math.Ceil(size/most - 1e-6))
}

// rounding is by how much a place in whole millimetres may make a step longer:
// not at all where start and goal are in whole millimetres themselves.
func (w *workshop) rounding() float64 {
	const mm = 1e-3
	even := w.Start.TotalLength() == w.Goal.TotalLength()
	for _, s := range []*models.Spec{w.Start, w.Goal} {
		at := float64(s.Rings[len(s.Rings)-1].At.Value) / mm
		even = even && math.Abs(at-math.Round(at)) < 1e-6
	}
	if even {
		return 0
	}
	return mm
}

func (w *workshop) has(k kind) bool {
	return slices.ContainsFunc(w.tracks, func(t track) bool { return t.kind == k })
}

// blankGroups are the edits that a divided blank is made of.
func (w *workshop) blankGroups() []diffing.Group {
	groups := []diffing.Group{diffing.Joints, diffing.StatedLength}
	for _, s := range w.Goal.Sections {
		groups = append(groups, w.compared.SectionGroup(s.Name.Text))
	}
	return groups
}

// divided reports whether the tracks laid so far make an edit already.
func (w *workshop) divided(e diffing.Edit) bool {
	switch {
	case w.groupTracked(e.Group):
		return true
	case e.Group == diffing.RingPattern:
		return w.patternDivided()
	case e.Group == diffing.RingParts:
		// The butt ring's part goes by its size.
		lowest := models.RingPath(w.Goal.Rings[len(w.Goal.Rings)-1])
		return w.has(buttSize) && !slices.ContainsFunc(e.Changes, func(c diffing.Change) bool { return !lowest.Leads(c.Path) })
	}
	return false
}

// patternDivided reports whether count and place of the rings, as far as they
// differ, are tracks of their own; the places of the others go with them.
func (w *workshop) patternDivided() bool {
	if !w.has(ringCount) && !w.has(buttPlace) {
		return false
	}
	count := w.has(ringCount) || len(w.Start.Rings) == len(w.Goal.Rings)
	return count && (w.has(buttPlace) || math.Abs(w.buttPlace(1)-w.buttPlace(0)) < 1e-6)
}
