package catalogue

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"slices"

	"rodlore/evaluate"
	"rodlore/models"
)

// Timeline lists the revisions of a model as Revisions does, with an unsaved
// draft, if there is one, in front.
func (h *History) Timeline(model string) ([]*Revision, error) {
	revs, err := h.Revisions(model)
	if err != nil {
		return nil, err
	}
	if draft, err := h.Draft(model); err == nil && draft.Status == Draft {
		revs = slices.Insert(revs, 0, draft)
	}
	return revs, nil
}

// Source is the spec of a revision as it was written.
func (h *History) Source(rev *Revision) (string, error) {
	src, err := h.specs.content(rev.snapshot.model)
	return string(src), err
}

// History is the models followed through the saved states, beside the files as they
// stand now.
type History struct {
	*Files
	index *index
	specs *specs

	lineages map[string]*lineage
	names    map[string][]string // that each model had, today's first
	renamed  map[string]string   // former names of models to those of now; nil until asked for
	today    string              // "2026-11-25"; "" where no day is too late to ask for
}

// take goes on from a log of the saved states.
func (h *History) take(log *Log) {
	h.index = newIndex(log)
	h.names, h.lineages, h.renamed = map[string][]string{}, map[string]*lineage{}, nil
}

// SetToday says what day it is, such as 2026-11-25. A later date names no
// revision from then on: who asks for 2027 in 2026 means a release.
func (h *History) SetToday(today string) { h.today = today }

// Notes are what could not be read of the history, so far.
func (h *History) Notes() []error {
	notes := slices.Clone(h.index.Notes)
	if n, why := h.specs.lost(); n > 0 {
		notes = append(notes, fmt.Errorf("%d saved files could not be read, so that revisions and releases may be missing: %w", n, why))
	}
	return notes
}

// Refresh reads the history again, as it stands now.
func (h *History) Refresh(ctx context.Context) error {
	log, err := h.src.Log(ctx)
	if err != nil {
		return err
	}
	h.take(log)
	return nil
}

// asSaved reports whether a file stands as it was saved; line ends do not
// count.
func (h *History) asSaved(ctx context.Context, blob string, now []byte) (bool, error) {
	old, err := h.src.Blob(ctx, blob)
	if err != nil {
		return false, err
	}
	return bytes.Equal(unixLines(old), unixLines(now)), nil
}

func unixLines(b []byte) []byte { return bytes.ReplaceAll(b, []byte("\r\n"), []byte("\n")) }

// snapshotOf is what a model is made of in the state saved last, with files put
// over it.
func (h *History) snapshotOf(name string, saved map[string]string, files map[string][]byte) snapshot {
	blob := func(file string) string {
		if src, ok := files[file]; ok && src != nil {
			return h.specs.draft(src)
		}
		return saved[file]
	}
	file := modelFile(name)
	return snapshot{file, blob(file), blob(partsFile), blob(materialsFile)}
}

// Head is the identity of the last saved state; "" before the first.
func (h *History) Head() string { return h.index.Head }

// IsSaved reports whether a file of the range stands as it was saved last.
func (h *History) IsSaved(ctx context.Context, file string) (bool, error) {
	now, err := h.src.Working(file)
	if err != nil {
		return false, err
	}
	blob := h.index.savedFiles()[file]
	if blob == "" {
		return false, nil
	}
	return h.asSaved(ctx, blob, now)
}

// Revisions lists the saved revisions of a model that the working files rest
// on, newest first.
func (h *History) Revisions(model string) ([]*Revision, error) {
	l, err := h.lineage(model)
	if err != nil {
		return nil, err
	}
	return l.main(), nil
}

// everyModel lists the models that the range has or ever had, each by its last
// name.
func (h *History) everyModel() ([]string, error) {
	list, err := h.Models()
	if err != nil {
		return nil, err
	}
	known := map[string]bool{}
	know := func(name string) {
		for _, n := range h.namesOf(name) {
			known[n] = true
		}
	}
	for _, name := range list {
		know(name)
	}
	// Newest first, and of one state what came before what went: so the last name
	// of each model is met first.
	for i := range h.index.States {
		for _, gone := range []bool{false, true} {
			for _, c := range h.index.States[i].Changes {
				if name, ok := modelName(c.Path); ok && (c.New == "") == gone && !known[name] {
					list = append(list, name)
					know(name)
				}
			}
		}
	}
	slices.Sort(list)
	return list, nil
}

// Follow follows models through the saved states, on every processor where they
// were not followed before.
func (h *History) Follow(ctx context.Context, models ...string) error {
	if err := evaluate.InParallel(ctx, len(models), func(i int) { h.identifyAll(ctx, models[i]) }); err != nil {
		return err
	}
	for _, model := range models {
		if _, err := h.lineage(model); err != nil {
			return err
		}
		if err := ctx.Err(); err != nil {
			return err
		}
	}
	return nil
}

// identifyAll works out the identities of a model's snapshots, unless that of the
// newest is known: then few are missing.
func (h *History) identifyAll(ctx context.Context, model string) {
	if h.lineages[model] != nil {
		return
	}
	x, file := h.index, modelFile(model)
	held := x.held(file)
	for n, i := range newCourse[string](x, x.edits[file], x.edits[partsFile], x.edits[materialsFile]).places() {
		snap := snapshot{file, held.at(i), x.parts.at(i), x.materials.at(i)}
		if _, known := h.specs.recall(snap); known && n == 0 || ctx.Err() != nil {
			break
		}
		if snap.model != "" {
			h.specs.identity(snap)
		}
	}
	h.specs.keep([]string{model})
}

// At is the revision of a model that was in force in a saved state; nil where it
// had none.
func (h *History) At(model, state string) (*Revision, error) {
	l, err := h.lineage(model)
	if err != nil {
		return nil, err
	}
	return l.in(state), nil
}

// Gone are the models that the last state has and whose files are there no more,
// neither under their names nor under others.
func (h *History) Gone(ctx context.Context) ([]string, error) {
	files, err := h.src.WorkingFiles()
	if err != nil {
		return nil, err
	}
	gone := map[string]string{} // their content, by the model
	for f, blob := range h.index.savedFiles() {
		if name, ok := modelName(f); ok && blob != "" && !slices.Contains(files, f) {
			gone[name] = blob
		}
	}
	if len(gone) == 0 {
		return nil, nil
	}
	for _, f := range files {
		if _, ok := modelName(f); !ok || h.index.savedFiles()[f] != "" {
			continue
		}
		src, err := h.src.Working(f)
		if err != nil {
			return nil, err
		}
		if m, err := models.ParseModel(f, src); err == nil {
			delete(gone, m.Was.Text)
		}
		for name, blob := range gone {
			if was, err := h.src.Blob(ctx, blob); err == nil && bytes.Equal(was, src) {
				delete(gone, name)
			}
		}
	}
	return slices.Sorted(maps.Keys(gone)), nil
}
