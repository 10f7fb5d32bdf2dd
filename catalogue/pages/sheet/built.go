package sheet

import (
	"errors"
	"fmt"

	"rodlore/catalogue"
	"rodlore/evaluate"
	"rodlore/models"
)

// built is the rod with the serial number of the sheet; nil while it was not
// built. One that is another rod has no such sheet.
func (s *sheet) built(r *catalogue.Range) (*catalogue.Build, error) {
	if s.Serial == "" {
		return nil, nil
	}
	b, err := r.Build(s.Serial)
	if errors.Is(err, catalogue.ErrNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	of, err := r.BuiltTo(b)
	if err != nil {
		return nil, err
	}
	if of.ID != s.rev.ID || of.Top != s.rev.Top {
		return nil, fmt.Errorf("rod %s was built as %s@%s; ask for the sheet of that, or for another serial number", s.Serial, b.Model, b.As())
	}
	return b, nil
}

// readings are what was measured of the rod, by the figures: when it was built,
// and on its bench sheets, where it has any.
func (s *sheet) readings(r *catalogue.Range) (map[string]string, error) {
	b, err := s.built(r)
	if b == nil || err != nil {
		return nil, err
	}
	list := map[string]string{}
	if b.Weight.Set() {
		list["weight"] = s.Value("weight", "kg", float64(b.Weight.Value))
	}
	if b.TestCurve.Set() {
		list["test-curve"] = s.Value("test-curve", "N", float64(b.TestCurve.Value))
	}
	sheets, err := r.Sheets(s.rev.Model)
	if err != nil {
		return nil, err
	}
	for _, bench := range sheets {
		if bench.Rod.Text != s.Serial {
			continue
		}
		if err := s.addReadings(list, bench); err != nil {
			return nil, err
		}
	}
	return list, nil
}

func (s *sheet) addReadings(list map[string]string, bench *models.Bench) error {
	readings, err := evaluate.Readings(bench, s.spec, s.set)
	if err != nil {
		return err
	}
	for _, reading := range readings {
		if reading.Figure != "" {
			value, deviation := reading.AsFigure()
			f, _ := s.figures.Get(reading.Figure)
			list[reading.Figure] = s.Supported(reading.Figure, f.Unit, value, deviation)
		}
	}
	return nil
}
