package evaluate

import "slices"

// differing are the spans on which the rod differs from a like one, of the same
// spec, other than by its masses at one point.
func (r *rod) differing(like *rod) []span {
	if like == nil {
		return nil
	}
	spans := unlike(r.wraps, like.wraps)
	spans = append(spans, unlike(r.feet, like.feet)...)
	spans = append(spans, unlike(r.grips, like.grips)...)
	spans = append(spans, unlike(r.bought, like.bought)...)
	for i := range r.build.sections {
		if !r.sectionLike(like, i) {
			spans = append(spans, r.members[i].span)
		}
	}
	return spans
}

// sectionLike says that section i came out as that of a like rod did.
func (r *rod) sectionLike(like *rod, i int) bool {
	if like == nil || !r.build.sections[i].equal(like.build.sections[i]) {
		return false
	}
	found := r.spec.Sections[i].Bought != nil || r.fitted != nil
	return !found || slices.Equal(r.build.known, like.build.known)
}

// unlike are the spans of what differs in two lists.
func unlike[T interface {
	comparable
	spanned
}](here, there []T) (spans []span) {
	for i := range max(len(here), len(there)) {
		if i < len(here) && i < len(there) && here[i] == there[i] {
			continue
		}
		for _, list := range [][]T{here, there} {
			if i < len(list) {
				spans = append(spans, list[i].all())
			}
		}
	}
	return spans
}

// pieceOver is the rod's piece over exactly that span; nil where it has none.
func (r *rod) pieceOver(s span) *piece {
	if r == nil {
		return nil
	}
	if p := r.pieceAt(s.middle()); p.span == s {
		return p
	}
	return nil
}
