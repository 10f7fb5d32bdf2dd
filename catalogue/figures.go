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

// Rods are the rods of the range's specs by its settings of today, each meshed once.
func (r *Range) Rods() (*evaluate.Rods, error) { return r.rods() }

// work is what is worked out of a rod.
type work func(*evaluate.Rod) (*evaluate.Figures, error)

func withTolerances(ctx context.Context) work {
	return func(rod *evaluate.Rod) (*evaluate.Figures, error) { return rod.FiguresWithTolerances(ctx) }
}

// Figures works out the figures of a revision, without tolerances, by the
// range's settings of today. A revision with a fault has none.
func (r *Range) Figures(rev *Revision) (*evaluate.Figures, error) {
	return r.figures(rev, "plain "+rev.Model, func(o *outcomes) *outcome { return &o.plain }, (*evaluate.Rod).Figures)
}

// FiguresWithTolerances works out what Figures does and how far the figures
// scatter, which takes some ten times as long the first time.
func (r *Range) FiguresWithTolerances(ctx context.Context, rev *Revision) (*evaluate.Figures, error) {
	return r.figures(rev, rev.Model, func(o *outcomes) *outcome { return &o.toleranced }, withTolerances(ctx))
}

func (r *Range) figures(rev *Revision, name string, which func(*outcomes) *outcome, do work) (*evaluate.Figures, error) {
	if rev.Fault() != nil {
		return nil, rev.Fault()
	}
	if rev.outcome == nil { // a spec that no range keeps
		return r.recall(name, rev.Spec(), rev.whole, rev, do)
	}
	o := which(rev.outcome)
	o.once.Do(func() { o.figures, o.err = r.recall(name, rev.Spec(), rev.whole, rev, do) })
	return o.figures, o.err
}

// FiguresOf works out with tolerances a rod that is no revision but was made from
// one, such as one with other rings, and keeps them as those of revisions.
// Several goroutines may call it at the same time.
func (r *Range) FiguresOf(ctx context.Context, s *models.Spec, from *Revision) (*evaluate.Figures, error) {
	return r.recall(from.Model, s, s.WholeID(), from, withTolerances(ctx))
}

// recall takes the figures of a spec that is written as a revision is from where
// they are kept under a name, or else works them out and keeps them.
func (r *Range) recall(name string, s *models.Spec, whole string, rev *Revision, do work) (*evaluate.Figures, error) {
	set, err := r.Settings()
	if err != nil {
		return nil, err
	}
	rods, err := r.Rods()
	if err != nil {
		return nil, err
	}
	if r.kept == nil {
		return do(rods.Of(s))
	}
	// The names of inputs and the notes have the spec's own spelling in them.
	key := results.KeyOf(evaluate.Method, set.ID(), whole, r.specs.contentID(rev.snapshot.model))
	if figs, ok := r.kept.Get(name, key); ok {
		return figs, nil
	}
	figs, err := do(rods.Of(s))
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

func (r *Range) evaluateAll(ctx context.Context, revs []*Revision, figures func(context.Context, *Revision) (*evaluate.Figures, error)) error {
	if _, err := r.Settings(); err != nil {
		return err
	}
	return evaluate.InParallel(ctx, len(revs), func(i int) {
		_, _ = figures(ctx, revs[i]) // kept with the revision, and told with it
	})
}
