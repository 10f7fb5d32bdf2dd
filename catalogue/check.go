package catalogue

import (
	"context"
	"errors"
	"slices"

	"rodlore/catalogue/working"
	"rodlore/models"
)

// Lost lists what of the saved states is not there any more, beyond what the
// Notes say.
func (r *Range) Lost(ctx context.Context) ([]error, error) {
	keeper, ok := r.src.(Keeper)
	if !ok {
		return nil, nil
	}
	lost, err := keeper.Missing(ctx)
	told := map[string]bool{}
	for _, n := range r.Notes() {
		told[n.Error()] = true
	}
	return slices.DeleteFunc(lost, func(n error) bool { return told[n.Error()] }), err
}

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
	if err := r.Follow(ctx, names...); err != nil {
		return nil, err
	}
	shared := map[string][]byte{}
	for _, file := range []string{rangeFile, partsFile, materialsFile, wordsFile} {
		src, err := r.working(file)
		if errors.Is(err, working.ErrUnusable) {
			continue // told below
		}
		if err != nil {
			return nil, err
		}
		shared[file] = src
	}
	faults, err := r.sharedFaults(shared)
	if err != nil {
		return nil, err
	}
	obstacles, err := r.src.Obstacles()
	if err != nil {
		return nil, err
	}
	for _, o := range obstacles {
		faults = append(faults, faultAt(models.Pos{File: o.Path, Line: 1, Col: 1}, "", "%s", o.Why))
	}
	for _, name := range names {
		rev, err := r.Draft(name)
		if err != nil {
			return nil, err
		}
		var found models.Faults
		if rev.Fault() != nil && !errors.As(rev.Fault(), &found) {
			return nil, rev.Fault()
		}
		faults = append(faults, found...)
	}
	recorded, err := r.recordFaults()
	if err != nil {
		return nil, err
	}
	refused, err := r.refusedFaults()
	if err != nil {
		return nil, err
	}
	unfit, err := r.checkedNames(names)
	if err != nil {
		return nil, err
	}
	if faults = slices.Concat(faults, recorded, refused, unfit); len(faults) == 0 {
		return nil, nil
	}
	return faults.Sorted(), nil
}

// refusedFaults are the files that could not be saved as they stand.
func (r *Range) refusedFaults() (models.Faults, error) {
	files, err := r.workingFiles()
	if err != nil {
		return nil, err
	}
	var faults models.Faults
	for _, file := range files {
		if err := r.src.Refused(file); err != nil {
			faults = append(faults, faultAt(models.Pos{File: file, Line: 1, Col: 1}, "", "%v", err))
		}
	}
	return faults, nil
}
