package catalogue

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"

	"rodlore/catalogue/working"
	"rodlore/models"
)

// scope is what a save takes along.
type scope struct {
	whole   bool            // everything
	files   map[string]bool // these
	models  map[string]bool // the specs of these, what was recorded of them, and the shared files
	serials map[string]bool // of rods of these models
}

func (s *Saves) scopeOf(req SaveRequest) (*scope, error) {
	taken := &scope{
		whole: len(req.Models) == 0 && len(req.Files) == 0,
		files: map[string]bool{}, models: map[string]bool{}, serials: map[string]bool{},
	}
	now, err := s.workingFiles()
	if err != nil {
		return nil, err
	}
	for _, f := range req.Files {
		if !slices.Contains(now, f) && s.index.savedFiles()[f] == "" {
			return nil, fmt.Errorf("%s: %w: it is no file of the range", f, ErrNotFound)
		}
		taken.files[f] = true
	}
	for _, m := range req.Models {
		if _, err := s.lineage(m); err != nil {
			return nil, err
		}
		for _, name := range s.withFormer(m) {
			taken.models[name] = true
		}
	}
	for _, f := range s.picturesOf(slices.Collect(maps.Keys(taken.models))) {
		taken.files[f] = true
	}
	years, _, err := s.years() // faults are told where they are saved
	if err != nil {
		return nil, err
	}
	for _, year := range years {
		for _, rod := range year.Built {
			if taken.models[rod.Model.Text] {
				taken.serials[rod.Serial.Text] = true
			}
		}
	}
	return taken, nil
}

// withFormer is a model with the names it had before whose files are gone: they
// go along with a save of it.
func (h *History) withFormer(model string) []string {
	names := []string{model}
	for _, former := range h.namesOf(model)[1:] {
		if _, err := h.src.Working(modelFile(former)); errors.Is(err, fs.ErrNotExist) {
			names = append(names, former)
		}
	}
	return names
}

// takes reports whether a file is taken along; src is nil for one that is gone.
func (s *scope) takes(file string, src []byte) bool {
	folder := path.Dir(file)
	switch {
	case s.whole || s.files[file]:
		return true
	case folder == ".": // what models share
		return len(s.models) > 0
	case folder == benchFolder:
		b, err := models.ParseBench(file, src)
		return err == nil && s.models[b.Model.Text]
	case folder == buildsFolder:
		b, err := models.ParseBuilds(file, src)
		return err == nil && s.tellsOf(b)
	}
	return folder != working.PictureFolder && s.models[nameOf(file)]
}

// names reports whether a file, or the model it is the spec of, was asked for by
// name.
func (s *scope) names(file string) bool {
	model, ok := modelName(file)
	return s.files[file] || ok && s.models[model]
}

// tellsOf reports whether a year has rods of the models, or repairs of them.
func (s *scope) tellsOf(b *models.Builds) bool {
	return slices.ContainsFunc(b.Built, func(rod models.BuiltRod) bool { return s.models[rod.Model.Text] }) ||
		slices.ContainsFunc(b.Repairs, func(r models.Repair) bool { return s.serials[r.Serial.Text] })
}
