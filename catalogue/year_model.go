package catalogue

import (
	"errors"
	"slices"
	"time"

	"rodlore/models"
)

// model gathers one model's year.
func (y *yearReader) model(name string) (*ModelYear, error) {
	l, err := y.lineage(name)
	if err != nil {
		return nil, err
	}
	m := &ModelYear{Model: name}
	for _, rev := range slices.Backward(l.main()) {
		if y.has(rev.When) {
			m.Saved = append(m.Saved, rev)
			m.Began = m.Began || rev.Before == nil
		}
	}
	if err := y.stood(m, l); err != nil {
		return nil, err
	}
	sold := l.issues(y.year.Number)
	y.released(m, sold)
	for _, rev := range m.Saved {
		if onSale(rev, sold) == nil {
			m.Prototypes = append(m.Prototypes, rev)
		}
	}
	if err := y.underWay(m, sold); err != nil {
		return nil, err
	}
	besides, err := y.Besides(name)
	if err != nil {
		return nil, err
	}
	for _, b := range slices.Backward(besides) {
		if b.By != nil && y.has(b.By.When) {
			m.Besides = append(m.Besides, b)
		}
	}
	y.unread(m)
	return m, y.records(m, l)
}

// has reports whether a time is of the year, as the clock had it that told it.
func (y *yearReader) has(t time.Time) bool { return t.Year() == y.year.Number }

// stood sets how the model stood at the end of the year, and what took it out of
// the range in it.
func (y *yearReader) stood(m *ModelYear, l *lineage) error {
	for _, st := range y.line {
		if st.When.Year() <= y.year.Number {
			m.Stood = l.in(st.ID)
			break
		}
	}
	out, err := y.TakenOut(m.Model)
	if err != nil || m.Stood != nil {
		return err
	}
	for _, o := range slices.Backward(out) {
		if y.has(o.When) {
			m.Gone = o
		}
	}
	return nil
}

// issues are the releases of a model up to the end of a year, oldest first.
func (l *lineage) issues(year int) []*Issue {
	var list []*Issue
	for _, rev := range slices.Backward(l.revisions) {
		for _, rel := range rev.releases {
			if l.in(rel.tag.State) != rev {
				continue // that of a rod which only got another name since
			}
			when := rel.tag.When
			if when.IsZero() { // a plain tag has no time of its own
				when = rev.When
			}
			if when.Year() <= year {
				list = append(list, &Issue{Step: &Step{Revision: rev}, Label: rel.label, When: when})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b *Issue) int { return a.When.Compare(b.When) })
	return list
}

// onSale is the last release of a revision among some; nil where there is none.
// A rod that only got another name is on sale as it was.
func onSale(rev *Revision, sold []*Issue) *Issue {
	for ; rev != nil; rev = rev.Before {
		for _, i := range slices.Backward(sold) {
			if i.Revision == rev {
				return i
			}
		}
		if rev.Before == nil || rev.Before.ID != rev.ID {
			return nil
		}
	}
	return nil
}

// released sets the releases of the year, each as a step from the one before it.
func (y *yearReader) released(m *ModelYear, sold []*Issue) {
	for i, now := range sold {
		m.Label = now.Label
		if !y.has(now.When) {
			continue
		}
		var before *Revision
		for _, old := range sold[:i] {
			if old.Fault() == nil {
				before, now.Since = old.Revision, old.Label
			}
			if old.ID == now.ID {
				now.Again = old.Label
			}
		}
		now.Made = made(now.Revision, sold[:i])
		m.Releases = append(m.Releases, now)
		y.pairs = append(y.pairs, pair{before, now.Revision, &now.Step})
	}
}

// made are the revisions that led to one since a release before it, oldest first.
func made(rev *Revision, sold []*Issue) []*Revision {
	var list []*Revision
	for ; rev != nil && onSale(rev, sold) == nil; rev = rev.Before {
		list = append(list, rev)
	}
	slices.Reverse(list)
	return list
}

// underWay sets what was made in the year after the last release.
func (y *yearReader) underWay(m *ModelYear, sold []*Issue) error {
	all := made(m.Stood, sold)
	m.Ahead = len(all) > 0
	trial := &Trial{}
	var base, newest *Revision
	for _, rev := range all {
		switch {
		case y.has(rev.When):
			trial.Saved = append(trial.Saved, rev)
			if rev.Fault() == nil {
				newest = rev
			}
		case rev.Fault() == nil:
			base = rev
		}
	}
	if len(all) > 0 && all[0].Before != nil {
		base = all[0].Before // the last release
		trial.Since = onSale(base, sold).Label
	}
	if newest != nil {
		y.pairs = append(y.pairs, pair{base, newest, &trial.Newest})
	}
	if err := y.draft(m, trial); err != nil {
		return err
	}
	if len(trial.Saved) > 0 || trial.Draft != nil {
		m.UnderWay = trial
	}
	return nil
}

// draft adds what is not saved now.
func (y *yearReader) draft(m *ModelYear, trial *Trial) error {
	if !y.has(y.now) || !slices.Contains(y.names, m.Model) {
		return nil
	}
	draft, err := y.Draft(m.Model)
	if err != nil || draft.Status != Draft {
		return err
	}
	trial.Draft = &Step{Revision: draft} // its place, until it is compared
	y.pairs = append(y.pairs, pair{draft.LastSound(), draft, &trial.Draft})
	return nil
}

// unread notes the revisions of the year that cannot be read.
func (y *yearReader) unread(m *ModelYear) {
	for _, rev := range m.Saved {
		y.noteUnread(rev)
	}
	if m.Stood != nil {
		y.noteUnread(m.Stood)
	}
	if m.UnderWay != nil && m.UnderWay.Draft != nil {
		y.noteUnread(m.UnderWay.Draft.Revision)
	}
}

// noteUnread notes every fault of a revision, or what else is wrong with it.
func (y *yearReader) noteUnread(rev *Revision) {
	if rev.Fault() == nil {
		return
	}
	when := note("notes.saved on", "day", rev.Day())
	if rev.Status == Draft {
		when = note("notes.not saved")
	}
	var faults models.Faults
	if !errors.As(rev.Fault(), &faults) {
		y.note(note("notes.unread", "model", rev.Model, "when", when, "why", rev.Fault()))
	}
	for _, f := range faults {
		y.note(note("notes.fault", "when", when, "fault", f))
	}
}
