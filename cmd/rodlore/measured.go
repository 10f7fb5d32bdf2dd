package main

import (
	"errors"
	"slices"

	"rodlore/catalogue"
	"rodlore/evaluate"
	"rodlore/models"
)

// measurement is a figure as it was measured on a rod.
type measurement struct {
	rod, date        string
	key              string
	value, deviation float64
}

// measurements are those that belong to one revision, and what could not be read
// of others.
type measurements struct {
	list   []measurement
	unread []string
}

// measuredOn gives what was measured of rods that were built to a revision, but
// for what it was fitted to since.
func measuredOn(r *catalogue.Range, s subject) (m measurements, err error) {
	sheets, err := r.Sheets(s.Model)
	var faults models.Faults
	switch {
	case errors.As(err, &faults):
		m.unread = append(m.unread, count(len(faults), "fault")+" in what was measured; \"rodlore check\" lists them")
	case err != nil:
		return m, err
	}
	id := s.Spec.Unfitted().ID()
	for _, sheet := range sheets {
		built, err := r.Built(sheet)
		if err == nil && built.Spec.Unfitted().ID() == id {
			err = m.add(sheet, built.Spec, s.set)
		}
		if err != nil {
			m.unread = append(m.unread, err.Error())
		}
	}
	return m, nil
}

// add adds the readings of a sheet that are of figures.
func (m *measurements) add(sheet *catalogue.Sheet, spec *models.Spec, set *models.Settings) error {
	readings, err := evaluate.Readings(sheet.Bench, spec, set)
	if err != nil {
		return err
	}
	for _, reading := range readings {
		if reading.Figure != "" {
			value, deviation := reading.AsFigure()
			m.list = append(m.list, measurement{rodWords(sheet.Rod.Text), sheet.Date.Text, reading.Figure, value, deviation})
		}
	}
	return nil
}

// notes are those of the figures and what could not be read.
func (m measurements) notes(figs *evaluate.Figures) []string {
	return append(listOf(slices.Clone(figs.Notes)), m.unread...)
}

// of are the measurements of one figure.
func (m measurements) of(key string) []measurement {
	var list []measurement
	for _, one := range m.list {
		if one.key == key {
			list = append(list, one)
		}
	}
	return list
}

// measuredJSON is one measurement of a figure. deviation is how many standard
// deviations, of the reading and of the figure's tolerance together, it lies off
// the figure.
type measuredJSON struct {
	Value       float64  `json:"value"`
	Uncertainty float64  `json:"uncertainty"`
	Rod         string   `json:"rod"`
	Date        string   `json:"date"`
	Deviation   *float64 `json:"deviation"`
}

func newMeasuredJSON(f evaluate.Figure, m measurement) measuredJSON {
	return measuredJSON{m.value, m.deviation, m.rod, m.date, numberOrNull(f.Deviations(m.value, m.deviation))}
}

// showMeasured holds what was measured against the figures, which have their
// tolerances.
func (p *program) showMeasured(s subject, figs *evaluate.Figures, m measurements) {
	if len(m.list) == 0 {
		return
	}
	t := table{columns: []column{
		{head: "measured"}, {head: "on the rod", right: true}, {head: "worked out", right: true}, {head: "off", right: true}, {},
	}}
	for _, f := range figs.List {
		d := short(s.display(), f.Key)
		for _, one := range m.of(f.Key) {
			t.add(evaluate.Short(f.Key), d.WithTolerance(f.Key, f.Unit, one.value, one.deviation),
				d.WithTolerance(f.Key, f.Unit, f.Value, f.Tolerance), offWords(f.Deviations(one.value, one.deviation)), one.rod+", "+one.date)
		}
	}
	p.println()
	p.print("", t)
	p.println("off: in standard deviations of reading and tolerance together")
}
