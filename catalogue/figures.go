package catalogue

import (
	"context"
	"sync"

	"rodlore/catalogue/cache"
	"rodlore/catalogue/results"
	"rodlore/evaluate"
	"rodlore/models"
)

// outcome is what the figures of a spec came to, worked out once.
type outcome struct {
	once    sync.Once
	figures *evaluate.Figures
	err     error
}

// outcomes are the figures of a spec, alone and with their tolerances.
type outcomes struct{ plain, toleranced outcome }

// Keep takes figures with tolerances, and which revisions there are, from a cache
// and keeps there what is worked out anew. Its scope names the build of the
// program: what another one kept is not taken.
func (r *Range) Keep(folder *cache.Folder) {
	if folder != nil {
		r.specs.kept, r.kept = folder, results.In(folder)
	}
}

// Figures works out the figures of a revision, without tolerances, by the
// range's settings of today. A revision with a fault has none.
func (r *Range) Figures(rev *Revision) (*evaluate.Figures, error) {
	return r.figures(rev, func(o *outcomes) *outcome { return &o.plain }, func(s *models.Spec, set *models.Settings) (*evaluate.Figures, error) {
		return r.recallAs("plain "+rev.Model, s, rev.whole, rev, set, evaluate.Evaluate)
	})
}

// FiguresWithTolerances works out what Figures does and how far the figures
// scatter, which takes some ten times as long the first time.
func (r *Range) FiguresWithTolerances(ctx context.Context, rev *Revision) (*evaluate.Figures, error) {
	return r.figures(rev, func(o *outcomes) *outcome { return &o.toleranced },
		func(s *models.Spec, set *models.Settings) (*evaluate.Figures, error) { return r.recall(ctx, rev, set) })
}

func (r *Range) figures(
	rev *Revision, which func(*outcomes) *outcome, work func(*models.Spec, *models.Settings) (*evaluate.Figures, error),
) (*evaluate.Figures, error) {
	if rev.Fault() != nil {
		return nil, rev.Fault()
	}
	set, err := r.Settings()
	if err != nil {
		return nil, err
	}
	if rev.outcome == nil { // a spec that no range keeps
		return work(rev.Spec(), set)
	}
	o := which(rev.outcome)
	o.once.Do(func() { o.figures, o.err = work(rev.Spec(), set) })
	return o.figures, o.err
}

// FiguresOf works out with tolerances a rod that is no revision but was made from
// one, such as one with other rings, and keeps them as those of revisions.
// Several goroutines may call it at the same time.
func (r *Range) FiguresOf(ctx context.Context, s *models.Spec, from *Revision) (*evaluate.Figures, error) {
	set, err := r.Settings()
	if err != nil {
		return nil, err
	}
	return r.recallSpec(ctx, s, s.WholeID(), from, set)
}

// recall takes figures of a revision from where they are kept, or else works them
// out and keeps them.
func (r *Range) recall(ctx context.Context, rev *Revision, set *models.Settings) (*evaluate.Figures, error) {
	return r.recallSpec(ctx, rev.Spec(), rev.whole, rev, set)
}

// recallSpec does so for a spec written as a revision is.
func (r *Range) recallSpec(ctx context.Context, s *models.Spec, whole string, rev *Revision, set *models.Settings) (*evaluate.Figures, error) {
	return r.recallAs(rev.Model, s, whole, rev, set, func(s *models.Spec, set *models.Settings) (*evaluate.Figures, error) {
		return evaluate.EvaluateWithTolerances(ctx, s, set)
	})
}

// recallAs takes figures that are kept under a name, or works them out.
func (r *Range) recallAs(
	name string, s *models.Spec, whole string, rev *Revision, set *models.Settings,
	work func(*models.Spec, *models.Settings) (*evaluate.Figures, error),
) (*evaluate.Figures, error) {
	if r.kept == nil {
		return work(s, set)
	}
	// The names of inputs and the notes have the spec's own spelling in them.
	key := results.KeyOf(evaluate.Method, set.ID(), whole, r.specs.contentID(rev.snapshot.model))
	if figs, ok := r.kept.Get(name, key); ok {
		return figs, nil
	}
	figs, err := work(s, set)
	if err == nil {
		r.kept.Put(name, key, figs)
	}
	return figs, err
}

// EvaluateAll works out the figures of all the revisions, on every processor, so
// that Figures has them at once.
func (r *Range) EvaluateAll(ctx context.Context, revs []*Revision) error {
	return r.evaluateAll(ctx, revs, func(_ context.Context, rev *Revision) (*evaluate.Figures, error) { return r.Figures(rev) })
}

func (r *Range) evaluateAll(ctx context.Context, revs []*Revision, work func(context.Context, *Revision) (*evaluate.Figures, error)) error {
	if _, err := r.Settings(); err != nil {
		return err
	}
	return evaluate.InParallel(ctx, len(revs), func(i int) {
		_, _ = work(ctx, revs[i]) // kept with the revision, and told with it
	})
}
