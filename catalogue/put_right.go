package catalogue

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"rodlore/models"
)

// LaterWords were said of a revision after it was saved, besides what was said
// then: with a save that left the rod as it is, or by a note.
type LaterWords struct {
	Day       string
	Why, Tell string
}

// NotesFile is the file of what was put right of a model.
func NotesFile(model string) string { return notesFolder + "/" + model + ".yaml" }

// IsWithdrawn reports whether a label of the revision is off sale.
func (r *Revision) IsWithdrawn(label string) bool {
	return slices.ContainsFunc(r.Withdrawn, func(w models.Withdrawal) bool { return w.Label.Text == label })
}

// OffSale reports whether every release of the revision was withdrawn.
func (r *Revision) OffSale() bool {
	return len(r.Labels) > 0 && !slices.ContainsFunc(r.Labels, func(l string) bool { return !r.IsWithdrawn(l) })
}

// sayLater adds what was said with a save that left the rod as it is.
func (r *Revision) sayLater(st *State) {
	why, tell := readMessage(st.Message)
	r.addWords(LaterWords{st.When.Format(time.DateOnly), why, tell})
}

// addWords adds to what was said. Customers read all of it, but for what was said
// before the day on which the words were put right.
func (r *Revision) addWords(w LaterWords) {
	r.Later = append(r.Later, w)
	if w.Day >= r.retold {
		r.Tell = strings.TrimSpace(r.Tell + "\n" + w.Tell)
	}
}

// putRight sets what was put right of a model. Of a file with faults nothing is,
// and the model is told all the same.
func (h *History) putRight(l *lineage) {
	for _, name := range l.names {
		notes, err := parsed(h.Files, NotesFile(name), models.ParseNotes)
		if err != nil {
			l.unnoted = err
			continue
		}
		for _, w := range notes.Reworded {
			l.about(h.specs, w.Release.Text, func(rev *Revision) { rev.reword(w) })
		}
		for _, w := range notes.Added {
			l.about(h.specs, w.Release.Text, func(rev *Revision) { rev.addWords(LaterWords{w.Date.Text, w.Why.Text, w.Tell.Text}) })
		}
		for _, w := range notes.Withdrawn {
			for _, rev := range l.revisions { // one that only got another name too
				if slices.Contains(rev.Labels, w.Label.Text) {
					rev.Withdrawn = append(rev.Withdrawn, w)
				}
			}
		}
	}
}

// about does something to the revision that a note names. One that is not there is
// told among the faults.
func (l *lineage) about(specs *specs, release string, do func(*Revision)) {
	rev := l.labelled(specs, release)
	if rev == nil {
		rev, _ = l.byID(specs, l.names[0], release)
	}
	if rev != nil {
		rev = l.in(rev.State) // and not what was said of it at some time
	}
	if rev != nil {
		do(rev)
	}
}

func (r *Revision) reword(w models.Rewording) {
	if w.Why.Text != "" {
		r.Why = w.Why.Text
	}
	r.Reworded = max(r.Reworded, w.Date.Text)
	if w.Tell.Text == "" {
		return
	}
	later := r.Later
	r.Tell, r.retold, r.Later = w.Tell.Text, w.Date.Text, nil
	for _, said := range later {
		r.addWords(said)
	}
}

// Withdrawable says why a label of a model cannot be taken off sale; nil where it
// can. The history must be that of now.
func (h *History) Withdrawable(model, label string) error {
	l, err := h.lineage(model)
	if err != nil {
		return err
	}
	if l.unnoted != nil {
		return l.unnoted
	}
	rev := l.labelled(h.specs, label)
	if rev == nil {
		return l.offer(model, fmt.Errorf("%s %s: %w", model, label, ErrNotFound), ": ")
	}
	for _, w := range rev.Withdrawn {
		if w.Label.Text == label {
			return fmt.Errorf("%s %s was withdrawn on %s already: %s", model, label, w.Date.Text, w.Why)
		}
	}
	return nil
}

// WithdrawnNotes tell the labels of a model that are off sale.
func (h *History) WithdrawnNotes(model string) ([]Note, error) {
	l, err := h.lineage(model)
	if err != nil {
		return nil, err
	}
	var notes []Note
	for _, rev := range l.revisions {
		for _, w := range rev.Withdrawn {
			notes = append(notes, note("notes.withdrawn", "label", w.Label.Text, "day", w.Date.Text, "why", w.Why.Text))
		}
	}
	return notes, nil
}
