package catalogue

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"sync"

	"rodlore/catalogue/results"
	"rodlore/catalogue/seen"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/models"
)

// The files that all models of a range share.
const (
	rangeFile     = "range.yaml"
	partsFile     = "parts.yaml"
	materialsFile = "materials.yaml"
	wordsFile     = "words.yaml"
	modelsFolder  = "models"
)

// Range is a maker's models and their shared parts, through time. Settings and
// the figures of revisions and of specs may be asked for concurrently, all else
// may not.
type Range struct {
	src   Source
	index *index
	specs *specs

	settings   func() (*models.Settings, error) // what range.yaml says, read once
	rods       func() (*evaluate.Rods, error)   // by these settings
	comparer   *diffing.Comparer
	checkWords func(file string, src []byte) error
	lineages   map[string]*lineage
	kept       *results.Store      // nil where figures are not kept from run to run
	today      string              // "2026-11-25"; "" where no day is too late to ask for
	names      map[string][]string // that each model had, today's first
	renamed    map[string]string   // former names of models to those of now; nil until asked for

	once map[string]any // what was read of the working files, by name; nil where nothing is read once

	tagged              bool           // since the history was read
	seen, seenElsewhere []seen.Release // releases of it, here and in other copies, as they were seen first
}

// Open reads the history of the range kept in src.
func Open(ctx context.Context, src Source) (*Range, error) {
	log, err := src.Log(ctx)
	if err != nil {
		return nil, err
	}
	r := &Range{src: src, checkWords: func(string, []byte) error { return nil }}
	r.settings = sync.OnceValues(r.readSettings)
	r.rods = sync.OnceValues(func() (*evaluate.Rods, error) {
		set, err := r.Settings()
		return evaluate.NewRods(set), err
	})
	r.specs = newSpecs(func(id string) ([]byte, error) { return src.Blob(ctx, id) })
	r.take(log)
	return r, nil
}

// take goes on from a log of the saved states.
func (r *Range) take(log *Log) {
	r.index, r.tagged = newIndex(log), false
	r.names, r.lineages, r.renamed = map[string][]string{}, map[string]*lineage{}, nil
}

// SetToday says what day it is, such as 2026-11-25. A later date names no
// revision from then on: who asks for 2027 in 2026 means a release.
func (r *Range) SetToday(today string) { r.today = today }

// Notes are what could not be read of the history, so far.
func (r *Range) Notes() []error {
	notes := slices.Clone(r.index.Notes)
	if n, why := r.specs.lost(); n > 0 {
		notes = append(notes, fmt.Errorf("%d saved files could not be read, so that revisions and releases may be missing: %w", n, why))
	}
	return notes
}

// Settings are the range's settings as they stand now. All revisions are
// evaluated by them, so that figures of different years can be compared.
func (r *Range) Settings() (*models.Settings, error) { return r.settings() }

func (r *Range) readSettings() (*models.Settings, error) {
	src, err := r.working(rangeFile)
	if err != nil {
		return nil, err
	}
	return models.ParseSettings(rangeFile, src)
}

// CheckWords says how words.yaml is held against the sentences that there are.
func (r *Range) CheckWords(check func(file string, src []byte) error) { r.checkWords = check }

// WordsFile is the range's words.yaml as it stands now, with its name.
func (r *Range) WordsFile() (file string, src []byte, err error) {
	src, err = r.working(wordsFile)
	return wordsFile, src, err
}

// working is the content of a shared file as it stands now; a missing one is
// empty.
func (r *Range) working(file string) ([]byte, error) {
	src, err := r.src.Working(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return src, err
}

// Models lists the names of the range's models as they stand now, sorted.
func (r *Range) Models() ([]string, error) {
	files, err := r.workingFiles()
	if err != nil {
		return nil, err
	}
	names := map[string]bool{}
	for _, f := range files {
		if name, ok := modelName(f); ok {
			names[name] = true
		}
	}
	return slices.Sorted(maps.Keys(names)), nil
}

// modelName is the name of the model whose spec is in that file.
func modelName(file string) (string, bool) { return nameIn(modelsFolder, file) }

// modelFile is the file of a model's spec.
func modelFile(name string) string { return modelsFolder + "/" + name + ".yaml" }
