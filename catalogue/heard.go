package catalogue

import (
	"cmp"
	"slices"

	"rodlore/models"
)

// HeardFile is the file of what customers said of a model.
func HeardFile(model string) string { return heardFolder + "/" + model + ".yaml" }

// Heard gives what customers said of a model, under any name that it had, oldest
// first. A model that never was is an ErrNotFound; another error is a
// models.Faults.
func (r *Records) Heard(model string) ([]models.Remark, error) {
	if _, err := r.lineage(model); err != nil {
		return nil, err
	}
	all, err := ofModel(r.History, model, HeardFile, models.ParseHeard)
	if err != nil {
		return nil, err
	}
	var remarks []models.Remark
	for _, heard := range all {
		remarks = append(remarks, heard.Remarks...)
	}
	slices.SortStableFunc(remarks, func(a, b models.Remark) int { return cmp.Compare(a.Date.Text, b.Date.Text) })
	return remarks, nil
}

// HeardOf gives what customers said of one saved revision; see Heard.
func (r *Records) HeardOf(rev *Revision) ([]models.Remark, error) {
	remarks, err := r.Heard(rev.Model)
	return r.saidOf(rev, remarks), err
}

// saidOf gives those of the remarks on a model that are of one revision.
func (r *Records) saidOf(rev *Revision, remarks []models.Remark) []models.Remark {
	var of []models.Remark
	for _, m := range remarks {
		if about, err := r.Recorded(rev.Model, m.Release.Text); err == nil && about.State == rev.State {
			of = append(of, m)
		}
	}
	return of
}

// RemarkNotes are what to look at twice in a remark on a model: a day after
// today, 2026-11-25, or before its revision was saved.
func (r *Records) RemarkNotes(model string, m models.Remark, today string) []Note {
	if m.Date.Text > today {
		return []Note{note("notes.heard to come", "day", m.Date.Text, "place", m.Date.Pos)}
	}
	about, err := r.Recorded(model, m.Release.Text)
	if err != nil || m.Date.Text >= about.Day() { // the first is told among the faults
		return nil
	}
	return []Note{note("notes.heard early", "day", m.Date.Text, "saved", about.Day(), "place", m.Date.Pos)}
}
