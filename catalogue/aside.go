package catalogue

import "slices"

// setAside finds the revisions that the working files rest on by their history
// alone: where sides came together that had each gone on with the model, the
// merge took it as another side had it.
func (l *lineage) setAside(states []State, head string) {
	kept := map[string]bool{head: true}
	aside := map[string]*State{} // the merge that did not take it, by state
	for i := range states {      // children before parents
		st := &states[i]
		merge := aside[st.ID]
		takes := func(string) bool { return false }
		switch {
		case kept[st.ID]:
			merge, takes = st, l.taken(st)
		case merge == nil:
			continue
		}
		for _, p := range st.Parents {
			switch {
			case takes(p):
				kept[p] = true
			case aside[p] == nil:
				aside[p] = merge
			}
		}
	}
	for _, rev := range l.revisions {
		if !kept[rev.State] {
			rev.Aside = aside[rev.State]
		}
	}
}

// taken says which parents a state has the model from: those that had it as it
// is, or all of them where none had.
func (l *lineage) taken(st *State) func(parent string) bool {
	same := func(p string) bool {
		was, is := l.at[p], l.at[st.ID]
		return was == is || was != nil && is != nil && was.ID == is.ID && was.File == is.File
	}
	if !slices.ContainsFunc(st.Parents, same) {
		return func(string) bool { return true }
	}
	return same
}
