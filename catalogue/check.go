package catalogue

import (
	"context"
	"errors"

	"rodlore/models"
)

// Check gives every fault of the models named, as their files stand now, of the
// shared files and of what was measured, built and heard; of all models where
// none is named. It is nil where all is well. An error is one of the range
// itself, such as a model that is not there.
func (r *Range) Check(ctx context.Context, names ...string) (models.Faults, error) {
	if len(names) == 0 {
		var err error
		if names, err = r.Models(); err != nil {
			return nil, err
		}
	}
	shared := map[string][]byte{}
	for _, file := range []string{rangeFile, partsFile, materialsFile, wordsFile} {
		src, err := r.working(file)
		if err != nil {
			return nil, err
		}
		shared[file] = src
	}
	faults, err := r.sharedFaults(shared)
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		rev, err := r.Draft(name)
		if err != nil {
			return nil, err
		}
		var found models.Faults
		if rev.Fault != nil && !errors.As(rev.Fault, &found) {
			return nil, rev.Fault
		}
		faults = append(faults, found...)
	}
	recorded, err := r.recordFaults()
	if err != nil {
		return nil, err
	}
	if faults = append(faults, recorded...); len(faults) == 0 {
		return nil, nil
	}
	return faults.Sorted(), nil
}
