package catalogue

import (
	"slices"
	"time"
)

// TakenOut is a model taken out of the range, or on under another name.
type TakenOut struct {
	State  string // the saved state that did it
	When   time.Time
	Author string
	Why    string
	Last   *Revision // what it took out
	Now    string    // the name that the model went on under; "" where it ended
}

// Day is the day on which it was saved, as Revision.Day gives it.
func (t *TakenOut) Day() string { return t.When.Format(time.DateOnly) }

// TakenOut lists when a model was taken out of the range behind the working
// files, the last time first. It may have come back since.
func (r *Range) TakenOut(model string) ([]*TakenOut, error) {
	l, err := r.lineage(model)
	if err != nil {
		return nil, err
	}
	var out []*TakenOut
	for i := range r.log.States {
		st := &r.log.States[i]
		last := l.takenOutBy(st)
		if last == nil || !l.onHead[st.ID] {
			continue
		}
		why, _ := readMessage(st.Message)
		out = append(out, &TakenOut{
			State: st.ID, When: st.When, Author: st.Author, Why: why, Last: last, Now: r.movedTo(st, last.File),
		})
	}
	return out, nil
}

// takenOutBy is the revision that a state took out: it stood in all of the
// state's parents and does not in it. A merge with a side that had it out
// already did not do it.
func (l *lineage) takenOutBy(st *State) *Revision {
	out := func(p string) bool { return l.at[p] == nil }
	if len(st.Parents) == 0 || l.at[st.ID] != nil || slices.ContainsFunc(st.Parents, out) {
		return nil
	}
	return l.at[st.Parents[0]]
}

// movedTo is the model that a state put in the place of the one in a file that
// it took away; "" for none.
func (r *Range) movedTo(st *State, file string) string {
	gone, _ := modelName(file)
	for _, c := range st.Changes {
		name, ok := modelName(c.Path)
		if !ok || c.New == "" {
			continue
		}
		m, err := r.specs.model(c.Path, c.New)
		if movedFrom(st, c) == gone || err == nil && m.Was.Text == gone {
			return name
		}
	}
	return ""
}
