package catalogue

import (
	"errors"
	"path"
	"strings"

	"rodlore/models"
)

// The folders of what the workshop writes down of its rods.
const (
	benchFolder   = "bench"   // a file a rod measured
	buildsFolder  = "builds"  // a file a year
	heardFolder   = "heard"   // a file a model
	notesFolder   = "notes"   // a file a model
	reviewsFolder = "reviews" // a file a model
)

// nameIn is the name, without .yaml, of a file in one of the range's folders.
func nameIn(folder, file string) (string, bool) {
	dir, base := path.Split(file)
	name, ok := strings.CutSuffix(base, ".yaml")
	return name, ok && dir == folder+"/" && name != ""
}

// named is what was read of a file.
type named[T any] struct {
	name    string // of the file without .yaml
	content T
}

// inFolder reads every file of a folder as it stands now, by the names of the
// files. Those without faults are given even where others have some.
func inFolder[T any](r *Range, folder string, parse func(string, []byte) (T, error)) (all []named[T], faults models.Faults, err error) {
	files, err := r.src.WorkingFiles()
	if err != nil {
		return nil, nil, err
	}
	for _, file := range files {
		name, ok := nameIn(folder, file)
		if !ok {
			continue
		}
		src, err := r.src.Working(file)
		if err != nil {
			return nil, nil, err
		}
		content, err := parse(file, src)
		var found models.Faults
		switch {
		case err == nil:
			all = append(all, named[T]{name, content})
		case errors.As(err, &found):
			faults = append(faults, found...)
		default:
			return nil, nil, err
		}
	}
	return all, faults, nil
}

// Recorded is the saved revision that a record names, by a name that the model
// has or had, and by the label of a release or the first characters of an
// identity. A record says neither "draft" nor a date, which could mean another
// revision some day.
func (r *Range) Recorded(model, release string) (*Revision, error) {
	model, err := r.nameNow(model)
	if err != nil {
		return nil, err
	}
	l, err := r.lineage(model)
	if err != nil {
		return nil, err
	}
	if rev := l.labelled(r.specs, release); rev != nil {
		return rev, nil
	}
	return l.byID(r.specs, model, release)
}
