package catalogue

import (
	"context"
	"errors"
	"slices"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/models"
)

// Comparisons holds revisions against each other, with what was heard of them.
type Comparisons struct{ *Records }

// Step is one revision of a model and what became of it since the one before.
type Step struct {
	*Revision
	Figures *evaluate.Figures // nil with a Fault, or where Unworkable
	// Unworkable says why a sound spec gives no figures.
	Unworkable error
	// Changes and Shifts are against the nearest revision before that has no
	// fault; nil for the first.
	Against *Revision
	Changes []diffing.Change
	Shifts  []diffing.Shift
	Notes   []Note
	Seen    *Revision       // what Sights is against; nil where there is none, as before the first release
	Heard   []models.Remark // what customers said of it, oldest first
	// Drifts are what of its releases is worked out otherwise today.
	Drifts []Drift

	sights func() []diffing.Sight
}

// Sights are what a customer sees changed since Seen.
func (s *Step) Sights() []diffing.Sight {
	if s.sights == nil {
		return nil
	}
	return s.sights()
}

// Steps compares each of the revisions with the one that before gives for it,
// lists what a customer sees changed since the release before it, and what
// customers said of it. A revision that cannot be read is a Step with a Fault,
// and the history goes on.
func (c *Comparisons) Steps(ctx context.Context, revs []*Revision, before func(*Revision) *Revision) ([]*Step, error) {
	// before looks for sound ones, by reading one after the other what is not read yet.
	if err := evaluate.InParallel(ctx, len(revs), func(i int) { _ = revs[i].Fault() }); err != nil {
		return nil, err
	}
	needed := slices.Clone(revs)
	for _, rev := range revs {
		if b := before(rev); b != nil {
			needed = append(needed, b)
		}
	}
	if err := c.evaluateAll(ctx, needed, c.FiguresWithTolerances); err != nil {
		return nil, err
	}
	if err := evaluate.InParallel(ctx, len(revs), func(i int) { // kept, and remembered by the comparer
		if b := before(revs[i]); b != nil && b.Fault() == nil && revs[i].Fault() == nil {
			c.changes(b, revs[i])
		}
	}); err != nil {
		return nil, err
	}
	steps := make([]*Step, len(revs))
	for i, rev := range revs {
		var err error
		if steps[i], err = c.compare(ctx, before(rev), rev); err != nil {
			return nil, err
		}
		c.see(steps[i], rev.Before.LastRelease())
	}
	return steps, c.hear(steps)
}

// Compare says what became of a revision since another, which may be nil, of
// this or another model. A revision that cannot be evaluated is told in the
// Step; an error is one of the range itself.
func (c *Comparisons) Compare(ctx context.Context, old, now *Revision) (*Step, error) {
	s, err := c.compare(ctx, old, now)
	if err == nil {
		c.see(s, old)
	}
	return s, err
}

// compare does so but for what a customer sees.
func (c *Comparisons) compare(ctx context.Context, old, now *Revision) (*Step, error) {
	set, err := c.Settings()
	if err != nil {
		return nil, err
	}
	s := &Step{Revision: now, Against: old}
	if now.Fault() != nil {
		return s, nil
	}
	s.Figures, s.Unworkable = c.FiguresWithTolerances(ctx, now)
	if s.Unworkable == nil {
		if s.Drifts, err = c.drifts(ctx, now, set); err != nil {
			return nil, err
		}
	}
	if old == nil || old.Fault() != nil {
		return s, nil
	}
	s.Changes = append(renamed(old, now), c.changes(old, now)...)
	if old.Model == now.Model && old.Top != now.Top {
		s.Changes = slices.DeleteFunc(slices.Clone(s.Changes), func(d diffing.Change) bool { return ofMainTop[d.Path[0].Key] })
	}
	before, err := c.FiguresWithTolerances(ctx, old)
	if stopped := ctx.Err(); stopped != nil {
		return nil, stopped
	}
	if err != nil || s.Unworkable != nil {
		return s, nil
	}
	s.Shifts = c.shifts(old, now, before, s.Figures, set)
	if before.Method != s.Figures.Method {
		s.Notes = append(s.Notes, note("notes.two methods", "old", before.Method, "new", s.Figures.Method))
	}
	return s, nil
}

// renamed is the change of a model's name, which stands in no spec.
func renamed(old, after *Revision) []diffing.Change {
	before, _ := modelName(old.File)
	now, _ := modelName(after.File)
	if old.Model != after.Model || before == now {
		return nil
	}
	return []diffing.Change{{Kind: diffing.Altered, Path: models.Path{{Key: "file"}}, Old: diffing.Content{What: before}, New: diffing.Content{What: now}, Group: diffing.Wording}}
}

// see sets what a customer who knows an earlier revision of the same model,
// which may be nil, sees changed.
func (c *Comparisons) see(s *Step, seen *Revision) {
	s.Seen, s.sights = nil, nil
	if seen == nil || seen.Fault() != nil || s.Fault() != nil || seen.Model != s.Model || seen.Top != s.Top {
		return
	}
	s.Seen = seen
	s.sights = func() []diffing.Sight { return c.Comparer().Compare(seen.Spec(), s.Spec()).Sights() }
}

// hear adds to the steps of a model what was said of each. Faults in what was
// heard are noted with the newest and keep no history from being told.
func (c *Comparisons) hear(steps []*Step) error {
	if len(steps) == 0 {
		return nil
	}
	if l, err := c.lineage(steps[0].Model); err == nil && l.unnoted != nil {
		steps[0].Notes = append(steps[0].Notes, plain(FirstFault(l.unnoted).Error()))
	}
	remarks, err := c.Heard(steps[0].Model)
	var faults models.Faults
	if errors.As(err, &faults) {
		steps[0].Notes = append(steps[0].Notes, plain(faults[0].Error()))
		return nil
	}
	for _, s := range steps {
		s.Heard = c.saidOf(s.Revision, remarks)
	}
	return err
}
