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

// thickness writes a diameter or a wall, m: to a tenth of a millimetre, and below
// one millimetre to a hundredth.
func (t Teller) thickness(m float64) string {
	const tenth, hundredth = 2e-4, 2e-5 // deviations that support these digits
	if m < 1e-3 {
		return t.Supported("", "m", m, hundredth)
	}
	return t.Supported("", "m", m, tenth)
}
