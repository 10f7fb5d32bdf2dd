package say

import (
	"fmt"

	"rodlore/evaluate"
	"rodlore/models"
)

// Reading writes a value of a reading.
func (t Teller) Reading(r evaluate.Reading, value float64) string {
	switch r.What {
	case models.CountMeasure:
		return fmt.Sprintf("%.1f", value)
	case models.PendulumMeasure:
		return fmt.Sprintf("%.1f s", value)
	case models.TraceMeasure:
		return t.Change("", r.Unit, value, value)
	}
	return t.Display.Single(r.Figure).Value(r.Figure, r.Unit, value)
}

// Read writes what was read with its standard deviation.
func (t Teller) Read(r evaluate.Reading) string {
	switch r.What {
	case models.CountMeasure, models.PendulumMeasure:
		return t.Reading(r, r.Value) + fmt.Sprintf(" ± %.1f", r.Deviation)
	}
	return t.Display.Single(r.Figure).WithTolerance(r.Figure, r.Unit, r.Value, r.Deviation)
}
