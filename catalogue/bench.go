package catalogue

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"rodlore/models"
	"rodlore/models/spelling"
)

// BenchFile is the file of bench/ of that name.
func BenchFile(name string) string { return benchFolder + "/" + name + ".yaml" }

// Sheets gives what was measured of rods of a model, under any name that it had,
// by the names of the files. The error, if any, is a models.Faults with the faults of all such files; the
// sheets that have none are given all the same.
func (r *Records) Sheets(model string) ([]*models.Bench, error) {
	all, faults, err := r.allSheets()
	if err != nil {
		return nil, err
	}
	names := r.namesOf(model)
	all = slices.DeleteFunc(slices.Clone(all), func(s *models.Bench) bool { return !slices.Contains(names, s.Model.Text) })
	return all, models.Together(faults)
}

// allSheets reads every file of bench/.
func (r *Records) allSheets() ([]*models.Bench, models.Faults, error) {
	return inFolder(r.Files, benchFolder, models.ParseBench)
}

// Sheet gives a sheet of a model by its name; without one the only one there is.
func (r *Records) Sheet(model, name string) (*models.Bench, error) {
	sheets, err := r.Sheets(model)
	i := slices.IndexFunc(sheets, func(s *models.Bench) bool { return s.File == BenchFile(name) })
	var names []string
	for _, s := range sheets {
		names = append(names, nameOf(s.File))
	}
	switch {
	case i >= 0:
		return sheets[i], nil
	case err != nil: // it may be the one that has faults
		return nil, err
	case len(sheets) == 0:
		return nil, fmt.Errorf("model %s: %w: no rod of it was measured; write what you measure into a file of %s/, with \"model: %s\" in it",
			model, ErrNotFound, benchFolder, model)
	case name != "":
		return nil, fmt.Errorf("model %s: %w: no sheet %q of it%s; there is %s",
			model, ErrNotFound, name, spelling.DidYouMean(name, names), strings.Join(names, ", "))
	case len(sheets) > 1:
		return nil, fmt.Errorf("model %s: several rods of it were measured; name one of %s", model, strings.Join(names, ", "))
	}
	return sheets[0], nil
}

// Built is the revision that a measured rod was built to.
func (r *Records) Built(s *models.Bench) (*Revision, error) {
	model, err := r.nameNow(s.Model.Text)
	if err != nil {
		return nil, err
	}
	rev, err := r.Find(model, s.Of.Text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.File, err)
	}
	if rev.Fault() != nil {
		return nil, rev.Fault()
	}
	return rev, nil
}

// UnnamedSheet is a sheet that names no revision, and how a record names the one
// that its rod was built to.
type UnnamedSheet struct {
	*models.Bench
	BuiltTo string
}

// Unnamed are the sheets that a save would take along for the first time, or edited,
// and that do not say which revision their rods were built to. A sheet that is saved without its model's
// edits is an error: the rod that it is of would not be kept.
func (r *Saves) Unnamed(ctx context.Context, req SaveRequest) (found []UnnamedSheet, err error) {
	scope, err := r.scopeOf(req)
	if err != nil {
		return nil, err
	}
	all, _, err := r.allSheets() // faults are told where they are saved
	if err != nil {
		return nil, err
	}
	for _, s := range all {
		if s.Of.Text != "" || !scope.whole && !scope.files[s.File] && !scope.models[s.Model.Text] {
			continue
		}
		if saved, err := r.IsSaved(ctx, s.File); err != nil || saved {
			continue
		}
		rev, err := r.Built(s)
		if err != nil {
			continue // told where it is saved
		}
		if rev.State == "" && !scope.whole && !scope.models[rev.Model] {
			return nil, Advise(SaveFirst, []string{rev.Model}, "%s is of a rod as the draft of %s has it, which has edits that are not saved", s.File, rev.Model)
		}
		found = append(found, UnnamedSheet{s, rev.Recorded()})
	}
	return found, nil
}

// unnamed is that a sheet which was saved long ago does not say which revision its
// rod was built to, and what it was on that day.
func (r *Records) unnamed(s *models.Bench) []Note {
	if s.Of.Text != "" || r.index.savedFiles()[s.File] == "" { // a save of it writes that in
		return nil
	}
	was := ""
	if rev, err := r.Find(s.Model.Text, s.Date.Text); err == nil {
		was = rev.Recorded()
	}
	return []Note{note("notes.unnamed", "file", s.File, "day", s.Date.Text, "was", was)}
}

// SheetNotes are where sheets of a model name no revision or give the same readings,
// and where they and what was written down of the same rods as they were built name
// different revisions. Files with faults are left out.
func (r *Records) SheetNotes(model string) ([]Note, error) {
	sheets, err := r.Sheets(model)
	if err != nil && !errors.As(err, new(models.Faults)) {
		return nil, err
	}
	if len(sheets) == 0 {
		return nil, nil
	}
	rods, err := r.Builds("")
	if err != nil && !errors.As(err, new(models.Faults)) {
		return nil, err
	}
	notes := givenTwice(sheets)
	for _, s := range sheets {
		notes = append(notes, r.unnamed(s)...)
		i := slices.IndexFunc(rods, func(b *Build) bool { return b.Serial.Text == s.Rod.Text })
		if i < 0 {
			continue
		}
		notes = append(notes, r.disagreement(s, rods[i])...)
	}
	return notes, nil
}

// disagreement is that a sheet is of another revision than its rod was built
// to; none where it is of the same or where one of them is a fault.
func (r *Records) disagreement(s *models.Bench, b *Build) []Note {
	built, err := r.Recorded(b.Model.Text, b.Release.Text) // with any top it is of one spec
	if err != nil {
		return nil
	}
	measured, err := r.Built(s)
	if err != nil || built.Fault() != nil || measured.Spec().Unfitted().ID() == built.Spec().Unfitted().ID() {
		return nil
	}
	return []Note{note("notes.disagree", "rod", s.Rod.Text, "model", s.Model.Text, "of", cmp.Or(s.Of.Text, "draft"), "place", s.Rod.Pos,
		"built model", b.Model.Text, "built of", b.Release.Text, "built place", b.Serial.Pos)}
}

// givenTwice are readings that a sheet gives of another once more, as a copied
// file does: they would count twice.
func givenTwice(sheets []*models.Bench) []Note {
	var notes []Note
	for i, later := range sheets {
		for _, first := range sheets[:i] {
			if later.Rod.Text != first.Rod.Text || later.Date.Text != first.Date.Text {
				continue
			}
			twice := 0
			for _, m := range later.Measured {
				if slices.ContainsFunc(first.Measured, m.Same) {
					twice++
				}
			}
			if twice > 0 {
				notes = append(notes, note("notes.given twice", "twice", twice, "all", len(later.Measured), "rod", later.Rod.Text,
					"file", later.File, "first", first.File))
			}
		}
	}
	return notes
}
