package catalogue

import "slices"

// setAside finds the revisions that the working files rest on by their history
// alone: where sides came together that had each gone on with the model, the
// merge took it as another side had it.
func (l *lineage) setAside() {
	kept := make([]bool, len(l.heads))    // runs on which the working files rest with the model
	aside := make([]*State, len(l.heads)) // the merge that did not take it, by run
	if head := l.head(); head >= 0 {
		kept[l.run[head]] = true
	}
	for run, i := range l.heads { // children before parents
		merge, all := aside[run], true
		switch {
		case kept[run]:
			merge, all = &l.States[i], !slices.ContainsFunc(l.parents[i], func(p int) bool { return l.same(p, i) })
		case merge == nil:
			continue
		}
		for _, p := range l.parents[i] {
			switch {
			case kept[run] && (all || l.same(p, i)):
				kept[l.run[p]] = true
			case aside[l.run[p]] == nil:
				aside[l.run[p]] = merge
			}
		}
	}
	for _, rev := range l.revisions {
		if run := l.run[l.placeOf(rev.State)]; !kept[run] {
			rev.Aside = aside[run]
		}
	}
}

// same reports whether the model was the same in two states, or in neither.
func (l *lineage) same(a, b int) bool {
	was, is := l.is(a), l.is(b)
	return was == is || was != nil && is != nil && was.ID == is.ID && was.File == is.File
}
