package catalogue

import (
	"context"
	"errors"

	"rodlore/evaluate"
	"rodlore/models"
)

// Measurement is a figure as it was measured on a rod.
type Measurement struct {
	Rod, Date        string // as the sheet has them
	Key              string // of the figure
	Value, Deviation float64
}

// Measurements are what was measured of rods that were built to one revision.
type Measurements struct {
	List   []Measurement // in the order of the sheets
	Sheets int           // of such rods, those too that measured no figure
	// Unread is what could not be read of this or other revisions, and what was read
	// of a rod that may be another.
	Unread []Note
}

// Of are the measurements of one figure.
func (m *Measurements) Of(key string) []Measurement {
	var list []Measurement
	for _, one := range m.List {
		if one.Key == key {
			list = append(list, one)
		}
	}
	return list
}

// MeasuredOn gives what was measured of rods that were built to a revision, but
// for what it was fitted to since.
func (r *Records) MeasuredOn(ctx context.Context, rev *Revision) (*Measurements, error) {
	m := &Measurements{}
	if rev.Top != "" {
		return m, nil
	}
	set, err := r.Settings()
	if err != nil {
		return nil, err
	}
	sheets, err := r.Sheets(rev.Model)
	if err := m.leaveOut(err); err != nil {
		return nil, err
	}
	id := rev.Spec().Unfitted().ID()
	for _, sheet := range sheets {
		built, err := r.Built(sheet)
		if err == nil && built.Spec().Unfitted().ID() == id {
			err = m.add(sheet, built.Spec(), set)
			if sheet.Of.Text == "" {
				m.Unread = append(m.Unread, note("notes.of draft", "file", sheet.File))
			}
		}
		if err != nil {
			m.Unread = append(m.Unread, plain(err.Error()))
		}
	}
	return m, nil
}

// leaveOut notes that sheets have faults, and gives back any other error.
func (m *Measurements) leaveOut(err error) error {
	var faults models.Faults
	if !errors.As(err, &faults) {
		return err
	}
	m.Unread = append(m.Unread, note("notes.measured faults", "n", len(faults)))
	return nil
}

// AsBuilt is the Rod of a measurement that was made as the rod was built.
const AsBuilt = "as built"

// MeasuredOnRod gives what was measured of one rod: as it was built, and in the
// sheets that have its number.
func (r *Records) MeasuredOnRod(b *Build) (*Measurements, error) {
	m := &Measurements{}
	m.asBuilt(b)
	set, err := r.Settings()
	if err != nil {
		return nil, err
	}
	rev, err := r.BuiltTo(b)
	if err != nil {
		return nil, err
	}
	sheets, err := r.Sheets(rev.Model)
	if err := m.leaveOut(err); err != nil {
		return nil, err
	}
	for _, sheet := range sheets {
		if sheet.Rod.Text != b.Serial.Text {
			continue
		}
		m.Unread = append(m.Unread, r.disagreement(sheet, b)...)
		if err := m.add(sheet, rev.Spec(), set); err != nil {
			m.Unread = append(m.Unread, plain(err.Error()))
		}
	}
	return m, nil
}

// asBuilt adds what was measured of a rod as it was built.
func (m *Measurements) asBuilt(b *Build) {
	add := func(key string, what models.Measure, value float64) {
		deviation, _ := models.UsualDeviation(what, value)
		m.List = append(m.List, Measurement{AsBuilt, b.Date.Text, key, value, deviation})
	}
	if b.Weight.Set() {
		add("weight", models.WeightMeasure, float64(b.Weight.Value))
	}
	if b.TestCurve.Set() {
		add("test-curve", models.TestCurveMeasure, float64(b.TestCurve.Value))
	}
}

// add adds the readings of a sheet that are of figures.
func (m *Measurements) add(sheet *models.Bench, spec *models.Spec, set *models.Settings) error {
	readings, err := evaluate.Readings(sheet, spec, set)
	if err != nil {
		return err
	}
	m.Sheets++
	for _, reading := range readings {
		if reading.Figure != "" {
			value, deviation := reading.AsFigure()
			m.List = append(m.List, Measurement{sheet.Rod.Text, sheet.Date.Text, reading.Figure, value, deviation})
		}
	}
	return nil
}
