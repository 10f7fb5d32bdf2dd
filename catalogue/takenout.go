package catalogue

import "slices"

// TakenOut is a model taken out of the range, or on under another name.
type TakenOut struct {
	*State
	Last *Revision // what it took out
	Now  string    // the name that the model went on under; "" where it ended
}

// TakenOut lists when a model was taken out of the range behind the working
// files, the last time first. It may have come back since.
func (h *History) TakenOut(model string) ([]*TakenOut, error) {
	l, err := h.lineage(model)
	if err != nil {
		return nil, err
	}
	var out []*TakenOut
	for _, i := range l.was.places() {
		if last := l.takenOutBy(i); last != nil && l.onHead[i] {
			out = append(out, &TakenOut{State: &l.States[i], Last: last, Now: h.movedTo(i, last.File)})
		}
	}
	return out, nil
}

// takenOutBy is the revision that a state took out: it stood in all of the
// state's parents and does not in it. A merge with a side that had it out
// already did not do it.
func (l *lineage) takenOutBy(state int) *Revision {
	parents := l.parents[state]
	out := func(p int) bool { return l.is(p) == nil }
	if len(parents) == 0 || l.is(state) != nil || slices.ContainsFunc(parents, out) {
		return nil
	}
	return l.is(parents[0])
}

// movedTo is the model that a state put in the place of the one in a file that
// it took away; "" for none.
func (h *History) movedTo(state int, file string) string {
	gone, _ := modelName(file)
	for i := range h.index.States[state].Changes {
		c := &h.index.States[state].Changes[i]
		name, ok := modelName(c.Path)
		if !ok || c.New == "" {
			continue
		}
		if h.movedFrom(edit{state, c}) == gone || h.specs.was(c.Path, c.New) == gone {
			return name
		}
	}
	return ""
}
