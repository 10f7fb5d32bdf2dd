package catalogue

import (
	"context"
	"sync"

	"rodlore/catalogue/cache"
	"rodlore/catalogue/results"
	"rodlore/diffing"
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

// Evaluator works out the revisions of a history by the range's settings of today.
type Evaluator struct {
	*History
	settings   func() (*models.Settings, error) // what range.yaml says, read once
	settingsID func() string
	rods       func() (*evaluate.Rods, error) // by these settings
	comparer   func() *diffing.Comparer
	kept       *results.Store // nil where figures are not kept from run to run
}

func newEvaluator(h *History) *Evaluator {
	e := &Evaluator{History: h}
	e.settings = sync.OnceValues(func() (*models.Settings, error) { return parsed(e.Files, rangeFile, models.ParseSettings) })
	e.settingsID = sync.OnceValue(func() string {
		set, err := e.Settings()
		if err != nil { // told by whoever asks for the rods
			return ""
		}
		return set.ID()
	})
	e.rods = sync.OnceValues(func() (*evaluate.Rods, error) {
		set, err := e.Settings()
		return evaluate.NewRods(set), err
	})
	e.comparer = sync.OnceValue(func() *diffing.Comparer {
		limits, err := e.Limits()
		if err != nil { // told by whoever asks for the settings, so that nothing is held against these
			return nil
		}
		return diffing.NewComparer(limits)
	})
	return e
}

// Settings are the range's settings as they stand now. All revisions are
// evaluated by them, so that figures of different years can be compared.
func (e *Evaluator) Settings() (*models.Settings, error) { return e.settings() }

// Keep takes figures, what changed from one revision to another, and which revisions
// there are, from a cache and keeps there what is worked out anew. Its scope names the
// build of the program: what another one kept is not taken.
func (e *Evaluator) Keep(folder *cache.Folder) {
	if folder != nil {
		e.specs.kept, e.kept = folder, results.In(folder)
	}
}

// Rods are the rods of the range's specs by its settings of today, each meshed once.
func (e *Evaluator) Rods() (*evaluate.Rods, error) { return e.rods() }

// work is what is worked out of a rod.
type work func(*evaluate.Rod) (*evaluate.Figures, error)

func withTolerances(ctx context.Context) work {
	return func(rod *evaluate.Rod) (*evaluate.Figures, error) { return rod.FiguresWithTolerances(ctx) }
}

// Figures works out the figures of a revision, without tolerances, by the
// range's settings of today. A revision with a fault has none.
func (e *Evaluator) Figures(rev *Revision) (*evaluate.Figures, error) {
	return e.figures(rev, "plain "+rev.Model, func(o *outcomes) *outcome { return &o.plain }, (*evaluate.Rod).Figures)
}

// FiguresWithTolerances works out what Figures does and how far the figures
// scatter, which takes some ten times as long the first time.
func (e *Evaluator) FiguresWithTolerances(ctx context.Context, rev *Revision) (*evaluate.Figures, error) {
	return e.figures(rev, rev.Model, func(o *outcomes) *outcome { return &o.toleranced }, withTolerances(ctx))
}

func (e *Evaluator) figures(rev *Revision, name string, which func(*outcomes) *outcome, do work) (*evaluate.Figures, error) {
	if rev.Fault() != nil {
		return nil, rev.Fault()
	}
	if rev.outcome == nil { // a spec that no range keeps
		return e.recall(name, rev.Spec, rev.whole, rev, do)
	}
	o := which(rev.outcome)
	o.once.Do(func() { o.figures, o.err = e.recall(name, rev.Spec, rev.whole, rev, do) })
	return o.figures, o.err
}

// FiguresOf works out with tolerances a rod that is no revision but was made from
// one, such as one with other rings, and keeps them as those of revisions.
// Several goroutines may call it at the same time.
func (e *Evaluator) FiguresOf(ctx context.Context, s *models.Spec, from *Revision) (*evaluate.Figures, error) {
	return e.recall(from.Model, func() *models.Spec { return s }, s.WholeID(), from, withTolerances(ctx))
}

// recall takes the figures of a spec that is written as a revision is from where
// they are kept under a name, or else works them out and keeps them.
func (e *Evaluator) recall(name string, spec func() *models.Spec, whole string, rev *Revision, do work) (*evaluate.Figures, error) {
	rods, err := e.Rods()
	if err != nil {
		return nil, err
	}
	key := results.KeyOf(e.followFrom(whole, rev)...)
	if kept, ok := results.Get[keptFigures](e.kept, name, key); ok {
		if kept.Toleranced {
			kept.Figures.Tolerances = sync.OnceValue(func() *evaluate.Tolerances {
				known, ok := results.Get[*evaluate.Tolerances](e.kept, tolerancesOf(name), key)
				if ok {
					return known
				}
				// Whoever asked for the figures may be gone by now, and so may the spec.
				if s := spec(); s != nil {
					if figs, err := rods.Of(s).FiguresWithTolerances(context.Background()); err == nil {
						known = figs.Tolerances()
						results.Put(e.kept, tolerancesOf(name), key, known)
					}
				}
				return known
			})
		}
		return kept.Figures, nil
	}
	figs, err := do(rods.Of(spec()))
	if err == nil {
		if figs.Tolerances != nil {
			results.Put(e.kept, tolerancesOf(name), key, figs.Tolerances())
		}
		results.Put(e.kept, name, key, keptFigures{figs, figs.Tolerances != nil})
	}
	return figs, err
}

// tolerancesOf is the name under which is kept what tolerances come from. It is most of
// what is kept, and seldom asked for.
func tolerancesOf(name string) string { return "tolerances of " + name }

// followFrom is what the figures of a spec that is written as a revision is follow from.
func (e *Evaluator) followFrom(whole string, rev *Revision) []string {
	// The names of inputs and the notes have the spec's own spelling in them.
	return []string{evaluate.Method, e.settingsID(), whole, e.specs.contentID(rev.snapshot.model)}
}

// keptFigures are figures as they are kept.
type keptFigures struct {
	Figures    *evaluate.Figures
	Toleranced bool
}

// shifts hold the figures of two revisions against each other. What they come to in
// pairs of rods is kept from run to run, under all that the figures follow from.
func (e *Evaluator) shifts(old, now *Revision, before, after *evaluate.Figures, set *models.Settings) []diffing.Shift {
	shifts := diffing.Figures(before, after, set)
	if len(shifts) > 0 { // all are of the same pairs
		shifts[0].Pairs.Recall(func(work func() map[string]evaluate.Change) map[string]evaluate.Change {
			key := results.KeyOf(append(e.followFrom(old.whole, old), e.followFrom(now.whole, now)...)...)
			return recalled(e.kept, "pairs "+now.Model, key, work)
		})
	}
	return shifts
}

// recalled is what is kept of a model under a key, or else worked out and kept.
func recalled[T any](kept *results.Store, name string, key results.Key, work func() T) T {
	known, ok := results.Get[T](kept, name, key)
	if !ok {
		known = work()
		results.Put(kept, name, key, known)
	}
	return known
}

// EvaluateAll works out the figures of all the revisions, on every processor, so
// that Figures has them at once.
func (e *Evaluator) EvaluateAll(ctx context.Context, revs []*Revision) error {
	return e.evaluateAll(ctx, revs, func(_ context.Context, rev *Revision) (*evaluate.Figures, error) { return e.Figures(rev) })
}

func (e *Evaluator) evaluateAll(ctx context.Context, revs []*Revision, figures func(context.Context, *Revision) (*evaluate.Figures, error)) error {
	if _, err := e.Settings(); err != nil {
		return err
	}
	return evaluate.InParallel(ctx, len(revs), func(i int) {
		_, _ = figures(ctx, revs[i]) // kept with the revision, and told with it
	})
}

// Limits are how much of what a customer sees may change in one release, by
// range.yaml and the ring sizes of parts.yaml as they stand now.
func (e *Evaluator) Limits() (diffing.StepLimits, error) {
	set, err := e.Settings()
	if err != nil {
		return diffing.StepLimits{}, err
	}
	// Faults in the parts are told by the specs that use them; without parts the
	// sizes that the two specs use do.
	parts, _, _ := e.Shared()
	return diffing.NewStepLimits(set, parts), nil
}

// Comparer compares specs of the range by its Limits, each pair once; where the settings
// have faults, by none.
func (e *Evaluator) Comparer() *diffing.Comparer { return e.comparer() }

// changes are what differs between two specs. Of saved ones it is kept from run to run,
// under the files of both, so that they need not be read again.
func (e *Evaluator) changes(old, now *Revision) []diffing.Change {
	work := func() []diffing.Change { return e.Comparer().Compare(old.Spec(), now.Spec()).Changes() }
	if !old.isSound() || !now.isSound() {
		return work()
	}
	a, b := old.snapshot, now.snapshot
	name, key := "changes "+now.Model, results.KeyOf("changes", a.file, a.model, a.parts, a.materials, b.file, b.model, b.parts, b.materials)
	return recalled(e.kept, name, key, work)
}

// Shares says which of the edits between two revisions, of one model or of two,
// did what to the figures. Neither may have a Fault.
func (e *Evaluator) Shares(ctx context.Context, old, now *Revision) (*diffing.Shares, error) {
	rods, err := e.Rods()
	if err != nil {
		return nil, err
	}
	return e.Comparer().Compare(old.Spec(), now.Spec()).ShareOut(ctx, func(s *models.Spec) (*evaluate.Figures, error) {
		return rods.Of(s).Figures()
	})
}

// related reports whether two rods are of one family, or of one butt.
func related(a, b *Revision) bool {
	if a.Fault() != nil || b.Fault() != nil {
		return false
	}
	if a.Model == b.Model {
		return a.Top != b.Top
	}
	return a.Family() != "" && a.Family() == b.Family()
}

// Actions holds the bends of two rods that belong together against each other; nil
// where they do not.
func (e *Evaluator) Actions(ctx context.Context, old, now *Revision) (*evaluate.Actions, error) {
	if !related(old, now) {
		return nil, nil
	}
	set, err := e.Settings()
	if err != nil {
		return nil, err
	}
	var both [2]*evaluate.Action
	for i, rev := range []*Revision{old, now} {
		if both[i], err = evaluate.New(rev.Spec(), set).Action(ctx); err != nil {
			return nil, err
		}
	}
	a := evaluate.CompareActions(both[0], both[1])
	return &a, nil
}
