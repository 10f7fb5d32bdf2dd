package catalogue

import "slices"

// setAside finds the revisions that the working files rest on by their history
// alone: where sides came together that had each gone on with the model, the
// merge took it as another side had it.
func (l *lineage) setAside() {
	kept := make([]bool, len(l.States))
	aside := make([]*State, len(l.States)) // the merge that did not take it, by state
	if head := l.head(); head >= 0 {
		kept[head] = true
	}
	for i := range l.States { // children before parents
		merge, all := aside[i], true
		switch {
		case kept[i]:
			merge, all = &l.States[i], !slices.ContainsFunc(l.parents[i], func(p int) bool { return l.same(p, i) })
		case merge == nil:
			continue
		}
		for _, p := range l.parents[i] {
			switch {
			case kept[i] && (all || l.same(p, i)):
				kept[p] = true
			case aside[p] == nil:
				aside[p] = merge
			}
		}
	}
	for _, rev := range l.revisions {
		if i := l.placeOf(rev.State); !kept[i] {
			rev.Aside = aside[i]
		}
	}
}

// same reports whether the model was the same in two states, or in neither.
func (l *lineage) same(a, b int) bool {
	was, is := l.is[a], l.is[b]
	return was == is || was != nil && is != nil && was.ID == is.ID && was.File == is.File
}
