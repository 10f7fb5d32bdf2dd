package catalogue

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"

	"rodlore/models"
)

// Files are the range's files as they stand now.
type Files struct {
	src  Source
	once map[string]any // what was read of them, by name; nil where nothing is read once
}

// The files that all models of a range share.
const (
	rangeFile     = "range.yaml"
	partsFile     = "parts.yaml"
	materialsFile = "materials.yaml"
	wordsFile     = "words.yaml"
	modelsFolder  = "models"
)

// WordsFile is the range's words.yaml as it stands now, with its name.
func (f *Files) WordsFile() (file string, src []byte, err error) {
	src, err = f.working(wordsFile)
	return wordsFile, src, err
}

// working is the content of a shared file as it stands now; a missing one is
// empty.
func (f *Files) working(file string) ([]byte, error) {
	src, err := f.src.Working(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return src, err
}

// Models lists the names of the range's models as they stand now, sorted.
func (f *Files) Models() ([]string, error) {
	files, err := f.workingFiles()
	if err != nil {
		return nil, err
	}
	var names []string
	for _, file := range files {
		if name, ok := modelName(file); ok {
			names = append(names, name)
		}
	}
	slices.Sort(names) // in which a dash does not stand before the dot of .yaml
	return names, nil
}

// modelName is the name of the model whose spec is in that file.
func modelName(file string) (string, bool) { return nameIn(modelsFolder, file) }

// modelFile is the file of a model's spec.
func modelFile(name string) string { return modelsFolder + "/" + name + ".yaml" }

// nameIn is the name, without .yaml, of a file in one of the range's folders.
func nameIn(folder, file string) (string, bool) {
	dir, base := path.Split(file)
	name, ok := strings.CutSuffix(base, ".yaml")
	return name, ok && dir == folder+"/" && name != ""
}

// nameOf is the name of a file without its folder and .yaml.
func nameOf(file string) string { return strings.TrimSuffix(path.Base(file), ".yaml") }

// ReadOnce has the working files listed once from now on, and the records among them
// read once, instead of for each model anew. It is for commands that write none of
// them and wait for nobody who does.
func (f *Files) ReadOnce() { f.once = map[string]any{} }

// onceRead is what read gives, from before where the working files are read once.
func onceRead[T any](f *Files, what string, read func() (T, error)) (made T, err error) {
	if f.once != nil {
		if made, ok := f.once[what]; ok {
			return made.(T), nil
		}
	}
	if made, err = read(); err == nil && f.once != nil {
		f.once[what] = made
	}
	return made, err
}

// workingFiles lists the range's files as they stand now, sorted.
func (f *Files) workingFiles() ([]string, error) {
	files, err := onceRead(f, "files", f.src.WorkingFiles)
	return slices.Clone(files), err
}

// records is what was read of the files of a folder.
type records[T any] struct {
	all    []T
	faults models.Faults
}

// inFolder reads every file of a folder as it stands now, by the names of the
// files. Those without faults are given even where others have some.
func inFolder[T any](f *Files, folder string, parse func(string, []byte) (T, error)) ([]T, models.Faults, error) {
	found, err := onceRead(f, folder, func() (records[T], error) { return readFolder(f, folder, parse) })
	return slices.Clip(found.all), slices.Clip(found.faults), err
}

func readFolder[T any](f *Files, folder string, parse func(string, []byte) (T, error)) (all records[T], err error) {
	files, err := f.workingFiles()
	if err != nil {
		return all, err
	}
	for _, file := range files {
		if _, ok := nameIn(folder, file); !ok {
			continue
		}
		src, err := f.src.Working(file)
		if err != nil {
			return all, err
		}
		content, err := parse(file, src)
		var found models.Faults
		switch {
		case err == nil:
			all.all = append(all.all, content)
		case errors.As(err, &found):
			all.faults = append(all.faults, found...)
		default:
			return all, err
		}
	}
	return all, nil
}

// ofModel reads the file of each name that a model had, today's first.
func ofModel[T any](h *History, model string, file func(string) string, parse func(string, []byte) (T, error)) (all []T, err error) {
	for _, name := range h.namesOf(model) {
		content, err := parsed(h.Files, file(name), parse)
		if err != nil {
			return nil, err
		}
		all = append(all, content)
	}
	return all, nil
}

// parsed reads a file as it stands now; a missing one is empty.
func parsed[T any](f *Files, file string, parse func(string, []byte) (T, error)) (content T, err error) {
	src, err := f.working(file)
	if err != nil {
		return content, err
	}
	return parse(file, src)
}

// Missing reports whether a model's file is not there.
func (f *Files) Missing(model string) bool {
	_, err := f.src.Working(modelFile(model))
	return errors.Is(err, fs.ErrNotExist)
}

// Refused says why a file of the range could not be saved as it stands, or once it
// is there; nil where it can be.
func (f *Files) Refused(file string) error { return f.src.Refused(file) }
