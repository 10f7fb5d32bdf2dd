package catalogue

import (
	"context"
)

// Range is a maker's models and their shared parts, through time. What can be asked
// of it stands with the types that it is made of, each over those before it. Settings
// and the figures of revisions and of specs may be asked for concurrently, all else
// may not.
type Range struct {
	*History
	*Evaluator
	*Records
	*Comparisons
	*Reviews
	*Releases
	*Checks
	*Saves
}

// Open reads the history of the range kept in src.
func Open(ctx context.Context, src Source) (*Range, error) {
	log, err := src.Log(ctx)
	if err != nil {
		return nil, err
	}
	// What a saved spec says is asked for where there is no error to tell an interruption by.
	blob := func(id string) ([]byte, error) { return src.Blob(context.WithoutCancel(ctx), id) }
	h := &History{Files: &Files{src: src}, specs: newSpecs(blob)}
	h.take(log)
	e := newEvaluator(h)
	records := &Records{h, e}
	comparisons := &Comparisons{records}
	reviews := &Reviews{comparisons}
	checks := &Checks{Records: records, checkWords: func(string, []byte) error { return nil }}
	return &Range{h, e, records, comparisons, reviews, &Releases{Reviews: reviews}, checks, &Saves{checks}}, nil
}
