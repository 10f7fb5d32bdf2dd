package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"rodlore/models"
)

// Sheet is what was measured of one rod, as its file stands now.
type Sheet struct {
	Name string // of the file without .yaml
	*models.Bench
}

// Sheets gives what was measured of rods of a model, by the names of the files.
// The error, if any, is a models.Faults with the faults of all such files; the
// sheets that have none are given all the same.
func (r *Range) Sheets(model string) ([]*Sheet, error) {
	all, faults, err := r.allSheets()
	if err != nil {
		return nil, err
	}
	all = slices.DeleteFunc(all, func(s *Sheet) bool { return s.Model.Text != model })
	if len(faults) > 0 {
		return all, faults.Sorted()
	}
	return all, nil
}

// allSheets reads every file of bench/.
func (r *Range) allSheets() (sheets []*Sheet, faults models.Faults, err error) {
	all, faults, err := inFolder(r, benchFolder, models.ParseBench)
	for _, b := range all {
		sheets = append(sheets, &Sheet{b.name, b.content})
	}
	return sheets, faults, err
}

// Sheet gives a sheet of a model by its name; without one the only one there is.
func (r *Range) Sheet(model, name string) (*Sheet, error) {
	sheets, err := r.Sheets(model)
	i := slices.IndexFunc(sheets, func(s *Sheet) bool { return s.Name == name })
	var names []string
	for _, s := range sheets {
		names = append(names, s.Name)
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
			model, ErrNotFound, name, models.DidYouMean(name, names), strings.Join(names, ", "))
	case len(sheets) > 1:
		return nil, fmt.Errorf("model %s: several rods of it were measured; name one of %s", model, strings.Join(names, ", "))
	}
	return sheets[0], nil
}

// Built is the revision that a measured rod was built to.
func (r *Range) Built(s *Sheet) (*Revision, error) {
	rev, err := r.Find(s.Model.Text, s.Of.Text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.File, err)
	}
	if rev.Fault != nil {
		return nil, rev.Fault
	}
	return rev, nil
}

// sheetFaults are the faults of all sheets; that a model is not there is one.
func (r *Range) sheetFaults() (models.Faults, error) {
	sheets, faults, err := r.allSheets()
	if err != nil {
		return nil, err
	}
	known, err := r.Models()
	if err != nil {
		return nil, err
	}
	for _, s := range sheets {
		if !slices.Contains(known, s.Model.Text) {
			faults = append(faults, &models.Fault{Pos: s.Model.Pos, Path: "model",
				Msg: fmt.Sprintf("no model is named %q%s", s.Model, models.DidYouMean(s.Model.Text, known))})
		}
	}
	return faults, nil
}
