package catalogue

import (
	"errors"
	"path"
	"slices"
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

// ReadOnce has the working files listed once from now on, and the records among them
// read once, instead of for each model anew. It is for commands that write none of
// them and wait for nobody who does.
func (r *Range) ReadOnce() { r.once = map[string]any{} }

// onceRead is what make gives, from before where the working files are read once.
func onceRead[T any](r *Range, what string, make func() (T, error)) (made T, err error) {
	if r.once != nil {
		if made, ok := r.once[what]; ok {
			return made.(T), nil
		}
	}
	if made, err = make(); err == nil && r.once != nil {
		r.once[what] = made
	}
	return made, err
}

// workingFiles lists the range's files as they stand now, sorted.
func (r *Range) workingFiles() ([]string, error) {
	files, err := onceRead(r, "files", r.src.WorkingFiles)
	return slices.Clone(files), err
}

// records is what was read of the files of a folder.
type records[T any] struct {
	all    []named[T]
	faults models.Faults
}

// inFolder reads every file of a folder as it stands now, by the names of the
// files. Those without faults are given even where others have some.
func inFolder[T any](r *Range, folder string, parse func(string, []byte) (T, error)) ([]named[T], models.Faults, error) {
	found, err := onceRead(r, folder, func() (records[T], error) { return readFolder(r, folder, parse) })
	return slices.Clip(found.all), slices.Clip(found.faults), err
}

func readFolder[T any](r *Range, folder string, parse func(string, []byte) (T, error)) (all records[T], err error) {
	files, err := r.workingFiles()
	if err != nil {
		return all, err
	}
	for _, file := range files {
		name, ok := nameIn(folder, file)
		if !ok {
			continue
		}
		src, err := r.src.Working(file)
		if err != nil {
			return all, err
		}
		content, err := parse(file, src)
		var found models.Faults
		switch {
		case err == nil:
			all.all = append(all.all, named[T]{name, content})
		case errors.As(err, &found):
			all.faults = append(all.faults, found...)
		default:
			return all, err
		}
	}
	return all, nil
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
