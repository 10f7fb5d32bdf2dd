package plan

import (
	"slices"

	"rodlore/diffing"
	"rodlore/evaluate"
)

// bundled is the same workshop with the edits that no customer sees made
// together: those that bring the figures wanted nearer, and those that do not,
// each judged alone on the rod of the start. It is nil where there are none to
// put together.
func (w *workshop) bundled() *workshop {
	b := *w
	b.tracks, b.rods = nil, map[string]*rod{}
	bundles := [2]track{{parts: 1, most: 1}, {parts: 1, most: 1}}
	var members [2]int
	for _, t := range w.tracks {
		which, ok := w.unseen(t)
		if !ok {
			b.tracks = append(b.tracks, t)
			continue
		}
		bundle := &bundles[which]
		members[which]++
		bundle.names = append(bundle.names, t.names...)
		bundle.groups = append(bundle.groups, t.groups...)
	}
	for i, t := range bundles {
		if members[i] > 0 {
			b.tracks = append(b.tracks, t)
		}
		if members[i] > 1 {
			b.together = append(b.together, t.names)
		}
	}
	if len(b.together) == 0 {
		return nil
	}
	return &b
}

// unseen says of an edit that is made at once and that no customer sees whether
// it is for the better, 0, or not, 1; ok is false of all others.
func (w *workshop) unseen(t track) (which int, ok bool) {
	if t.kind != whole || slices.Contains(t.groups, diffing.RingPattern) {
		return 0, false
	}
	taken := map[diffing.Group]bool{}
	for _, g := range t.groups {
		taken[g] = true
	}
	s, err := diffing.Blend(w.Start, w.Goal, taken)
	if err != nil || len(diffing.Visible(w.Start, s, w.Limits)) > 0 {
		return 0, false
	}
	figures, err := evaluate.New(s, w.Settings).Figures()
	switch {
	case err != nil:
		return 0, false
	case w.gain(figures) > 0:
		return 0, true
	}
	return 1, true
}
