package catalogue

import (
	"cmp"
	"slices"

	"rodlore/models"
)

// Heard gives what customers said of a model, under any name that it had, oldest
// first. The error, if any, is a models.Faults; what was said in files that have
// no faults is given all the same.
func (r *Range) Heard(model string) ([]models.Remark, error) {
	files, faults, err := inFolder(r, heardFolder, models.ParseHeard)
	if err != nil {
		return nil, err
	}
	names := r.namesOf(model)
	var remarks []models.Remark
	for _, f := range files {
		if slices.Contains(names, f.name) {
			remarks = append(remarks, f.content.Remarks...)
		}
	}
	slices.SortStableFunc(remarks, func(a, b models.Remark) int { return cmp.Compare(a.Date.Text, b.Date.Text) })
	if faults = slices.DeleteFunc(faults, func(f *models.Fault) bool {
		name, _ := nameIn(heardFolder, f.Pos.File)
		return !slices.Contains(names, name)
	}); len(faults) > 0 {
		return remarks, faults.Sorted()
	}
	return remarks, nil
}

// HeardOf gives what customers said of one saved revision; see Heard.
func (r *Range) HeardOf(rev *Revision) ([]models.Remark, error) {
	if rev.State == "" {
		return nil, nil
	}
	all, err := r.Heard(rev.Model)
	return slices.DeleteFunc(all, func(m models.Remark) bool {
		of, err := r.Recorded(rev.Model, m.Release.Text)
		return err != nil || of.State != rev.State
	}), err
}

// HeardFile is the file of heard/ for a model.
func HeardFile(model string) string { return heardFolder + "/" + model + ".yaml" }
