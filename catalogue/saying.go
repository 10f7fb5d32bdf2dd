package catalogue

import (
	"slices"
	"strings"
	"time"

	"rodlore/diffing"
)

// saying is what is said of a rod besides what makes it the rod it is: what it is
// for, what is wanted of it, what its parts cost. It holds from the saved state
// that brought it to the next that says otherwise or that makes another rod.
type saying struct {
	rev      *Revision
	state    int     // the place of the state that brought it
	before   *saying // of the same rod; nil where it came with the rod
	snapshot snapshot
	whole    string
	as       *Revision // the revision with it; nil until asked for
}

// say takes up what is said of a revision in a state.
func (l *lineage) say(state int, rev *Revision, snap snapshot, whole string) *saying {
	s := &saying{rev: rev, state: state, snapshot: snap, whole: whole}
	for _, p := range l.parents[state] {
		switch before := l.was.at(p); {
		case before.rev != rev:
		case before.said.whole == whole:
			return before.said
		case s.before == nil:
			s.before = before.said
		}
	}
	l.sayings = append(l.sayings, s)
	return s
}

// read takes a revision as it is said in a state: its figures and its text are of
// that state's files.
func (r *Revision) read(specs *specs, s *saying, st *State) {
	if r.whole == s.whole {
		return
	}
	r.snapshot, r.content, r.outcome = s.snapshot, specs.later(s.snapshot), &outcomes{}
	r.whole, r.standsIn = s.whole, st.ID
}

// as is the model as it was in a state, with what was said of it there; nil where
// it was not there. Its label is that of a release with the same said, where there
// is one.
func (l *lineage) as(specs *specs, state int) *Revision {
	s := l.says(state)
	if s == nil {
		return nil
	}
	if s.rev.whole == s.whole {
		return s.rev
	}
	if s.as == nil {
		rev := *s.rev
		rev.read(specs, s, &l.States[s.state])
		for _, t := range rev.releases {
			if l.says(l.placeOf(t.tag.State)) == s {
				rev.label = t.label
			}
		}
		s.as = &rev
	}
	return s.as
}

// told are the sayings behind the working files, oldest first.
func (l *lineage) told() []*saying {
	var list []*saying
	for _, s := range slices.Backward(l.sayings) {
		if l.onHead[s.state] {
			list = append(list, s)
		}
	}
	return list
}

// dayOf is the day on which a saying was saved.
func (l *lineage) dayOf(s *saying) string { return l.States[s.state].When.Format(time.DateOnly) }

// leave notes with every revision how the one before it was when it was left.
func (l *lineage) leave(specs *specs) {
	for _, rev := range l.revisions {
		if parents := l.parents[l.placeOf(rev.State)]; len(parents) > 0 {
			rev.left = l.as(specs, parents[0])
		}
	}
}

// bySaying finds what was said by the first characters of its identity, by which
// revisions went in scheme 1, or of the state that brought it.
func (l *lineage) bySaying(specs *specs, prefix string) []*Revision {
	var hits []*Revision
	for _, s := range l.sayings {
		if strings.HasPrefix(s.whole, prefix) || strings.HasPrefix(l.States[s.state].ID, prefix) {
			hits = append(hits, l.as(specs, s.state))
		}
	}
	return hits
}

// wentBy reports whether a revision goes by an identity that begins so, or did in
// scheme 1.
func (l *lineage) wentBy(rev *Revision, prefix string) bool {
	return strings.HasPrefix(rev.ID, prefix) || slices.ContainsFunc(l.sayings, func(s *saying) bool {
		return s.rev.ID == rev.ID && strings.HasPrefix(s.whole, prefix)
	})
}

// Beside is an edit that made no other rod: of what is said of a revision.
type Beside struct {
	*Revision        // as it is said since
	By        *State // the saved state that brought it; nil where it is not saved
	Why, Tell string
	Changes   []diffing.Change
}

// Besides lists the edits behind the working files, and those not saved, that made
// no other rod of the model, newest first.
func (e *Evaluator) Besides(model string) ([]*Beside, error) {
	l, err := e.lineage(model)
	if err != nil {
		return nil, err
	}
	var list []*Beside
	add := func(old, now *Revision, by *State) {
		if old.Fault() != nil || now.Fault() != nil {
			return
		}
		b := &Beside{Revision: now, By: by, Changes: e.changes(old, now)}
		if by != nil {
			b.Why, b.Tell = readMessage(by.Message)
		}
		list = append(list, b)
	}
	if draft, err := e.Draft(model); err == nil && draft.Edited {
		add(l.as(e.specs, l.head()), draft, nil)
	}
	for _, s := range l.sayings {
		if s.before != nil && l.onHead[s.state] {
			add(l.as(e.specs, s.before.state), l.as(e.specs, s.state), &l.States[s.state])
		}
	}
	return list, nil
}
