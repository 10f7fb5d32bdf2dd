package catalogue

import (
	"context"
	"errors"

	"rodlore/evaluate"
	"rodlore/evaluate/control"
	"rodlore/models"
)

// Weighing is the weight of a rod as it was built against what its revision
// works out to, kg.
type Weighing struct {
	*Build
	Revision *Revision
	Worked   evaluate.Figure // with its tolerance
}

// Difference is how much more the rod weighed than worked out, kg.
func (w Weighing) Difference() float64 { return float64(w.Weight.Value) - w.Worked.Value }

// Off is the difference in standard deviations of rods of that spec and of the
// balance together.
func (w Weighing) Off() float64 {
	deviation, _ := models.UsualDeviation(models.WeightMeasure, float64(w.Weight.Value))
	return w.Worked.Deviations(float64(w.Weight.Value), deviation)
}

// Weigh holds the rods that were weighed against their revisions, in the order
// given. Notes say which were left out and why.
func (r *Records) Weigh(ctx context.Context, rods []*Build) (list []Weighing, notes []Note, err error) {
	var revs []*Revision
	for _, b := range rods {
		if !b.Weight.Set() {
			continue
		}
		rev, err := r.BuiltTo(b)
		if err != nil {
			notes = append(notes, note("notes.left out", "rod", b.Serial.Text, "why", err))
			continue
		}
		revs = append(revs, rev)
		list = append(list, Weighing{Build: b, Revision: rev})
	}
	if err := r.evaluateAll(ctx, revs, r.FiguresWithTolerances); err != nil {
		return nil, nil, err
	}
	kept := list[:0]
	for _, w := range list {
		figs, err := r.FiguresWithTolerances(ctx, w.Revision)
		if err != nil {
			notes = append(notes, note("notes.left out", "rod", w.Serial.Text, "why", err))
			continue
		}
		w.Worked, _ = figs.Get("weight")
		if slip := w.slip(w.Worked.Value); len(slip) > 0 {
			notes = append(notes, slip...)
			continue
		}
		kept = append(kept, w)
	}
	return kept, notes, nil
}

// slip is that a weight is none of a rod that works out so, kg, but a slip of
// the pen or of the unit: half as much, twice as much, or beyond.
func (b *Build) slip(worked float64) []Note {
	if ratio := float64(b.Weight.Value) / worked; ratio > 0.5 && ratio < 2 {
		return nil
	}
	return []Note{note("notes.cannot weigh", "rod", b.Serial.Text, "weight", b.Weight.Text,
		"worked", evaluate.Quantity{Key: "weight", Unit: "kg", Value: worked}, "place", b.Weight.Pos)}
}

// BuildNotes are what to look at twice in what was written down of rods of a
// model; see RodNotes. Rods of files with faults are left out.
func (r *Records) BuildNotes(ctx context.Context, model, today string) ([]Note, error) {
	rods, err := r.Builds(model)
	if err != nil && !errors.As(err, new(models.Faults)) {
		return nil, err
	}
	var notes []Note
	for _, b := range rods {
		notes = append(notes, r.RodNotes(b, today)...)
	}
	return notes, nil
}

// RodNotes are what to look at twice in what was written down of a rod: days
// after today, 2026-11-25, or before its revision was saved, and a weight that
// it cannot have.
func (r *Records) RodNotes(b *Build, today string) []Note {
	var notes []Note
	if b.Date.Text > today {
		notes = append(notes, note("notes.built to come", "rod", b.Serial.Text, "day", b.Date.Text, "place", b.Date.Pos))
	}
	for _, repair := range b.Repairs {
		if repair.Date.Text > today {
			notes = append(notes, note("notes.mended to come", "rod", b.Serial.Text, "day", repair.Date.Text, "place", repair.Date.Pos))
		}
	}
	rev, err := r.BuiltTo(b)
	if err != nil {
		return notes // told among the faults
	}
	if b.Date.Text < rev.Day() {
		notes = append(notes, note("notes.built early", "rod", b.Serial.Text, "day", b.Date.Text, "saved", rev.Day(), "place", b.Date.Pos))
	}
	if !b.Weight.Set() {
		return notes
	}
	if figs, err := r.Figures(rev); err == nil {
		if worked, ok := figs.Get("weight"); ok {
			notes = append(notes, b.slip(worked.Value)...)
		}
	}
	return notes
}

// WeightChart is a control chart of rods against the weight worked out, in the
// order in which they were built.
type WeightChart struct {
	Weighings []Weighing
	// InDeviations says that the chart is of what each rod is Off, since rods of
	// several models are on it; else it is of their Difference.
	InDeviations bool
	Values       []float64      // of the weighings
	Control      *control.Chart // of the values; nil where they are too few
	Notes        []Note         // which rods were left out, and why
}

// ChartWeights makes the chart of a model, or of all where none is named.
func (r *Records) ChartWeights(ctx context.Context, model string) (*WeightChart, error) {
	rods, err := r.Builds(model)
	if err != nil {
		return nil, err
	}
	return r.chart(ctx, rods, model == "")
}

// chart makes the chart of some rods, in the order given.
func (r *Records) chart(ctx context.Context, rods []*Build, inDeviations bool) (c *WeightChart, err error) {
	c = &WeightChart{InDeviations: inDeviations}
	if c.Weighings, c.Notes, err = r.Weigh(ctx, rods); err != nil {
		return nil, err
	}
	for _, w := range c.Weighings {
		value := w.Difference()
		if c.InDeviations {
			value = w.Off()
		}
		c.Values = append(c.Values, value)
	}
	if len(c.Values) >= control.Least {
		c.Control, err = control.Individuals(c.Values)
	}
	return c, err
}
