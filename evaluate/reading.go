package evaluate

import (
	"fmt"
	"math"
	"strings"

	"rodlore/models"
)

// Reading is one number read at the bench, or that could be.
type Reading struct {
	What             models.Measure
	Section          string  // of a weight, a balance or a pendulum; "" means the whole rod
	Value, Deviation float64 // SI; of a traced point how far it lies off the rod, so 0
	Unit             string  // "1" for oscillations
	// Figure is the key of the figure that this is a measurement of; "" where it
	// is of none. Oscillations are so many times the recovery.
	Figure string

	at, load, pivot, swings, during float64 // how it was read, SI
	x, y                            float64 // a point of a trace
	number                          int     // of the point, from 1
	label                           bool    // off the label of a bought blank
}

// Readings are what a file of bench/ says was read of a rod of that spec. The
// error names the line that cannot have been read of it.
func Readings(b *models.Bench, s *models.Spec, set *models.Settings) ([]Reading, error) {
	var list []Reading
	for i := range b.Measured {
		m := &b.Measured[i]
		r := Reading{
			What: m.What, Section: m.Section.Text, Value: m.Value, Deviation: m.Deviation, Unit: m.Unit,
			at: float64(m.At.Value), load: float64(m.Load.Value), pivot: float64(m.Pivot.Value),
			swings: float64(m.Swings), during: float64(m.During.Value),
		}
		r.Figure = r.figure(set)
		if err := r.check(s); err != nil {
			return nil, fmt.Errorf("%v: %w", m.Pos, err)
		}
		if m.What != models.TraceMeasure {
			list = append(list, r)
			continue
		}
		for j, p := range m.Points {
			r.number, r.x, r.y = j+1, float64(p.X.Value), float64(p.Y.Value)
			if err := r.check(s); err != nil {
				return nil, fmt.Errorf("%v: %w", p.X.Pos, err)
			}
			list = append(list, r)
		}
	}
	return list, nil
}

// traceSlack is how far a traced point may lie beyond the rod, m: its tip ring is
// easily taken for the tip.
const traceSlack = 0.02

// check says what keeps it from having been read of a rod.
func (r *Reading) check(s *models.Spec) error {
	free := s.TotalLength() - s.HeldTo()
	switch {
	case r.Section != "" && s.SectionIndex(r.Section) < 0:
		return fmt.Errorf("the rod has no section named %q; it has %s", r.Section, strings.Join(s.SectionNames(), ", "))
	case math.Hypot(r.x, r.y) > free+traceSlack:
		return fmt.Errorf("point %d of the trace lies %.0f mm from the front of the hold, and the rod is %.0f mm long from there; look at the marks again", r.number, 1e3*math.Hypot(r.x, r.y), 1e3*free)
	case r.at > free:
		return fmt.Errorf("a drop is read %.0f mm from the tip, of a free length of %.0f mm; measure nearer the tip", 1e3*r.at, 1e3*free)
	}
	return nil
}

// figure is the key of the figure that the reading is of.
func (r *Reading) figure(set *models.Settings) string {
	switch r.What {
	case models.WeightMeasure, models.BalanceMeasure:
		if r.Section == "" {
			return string(r.What)
		}
	case models.DropMeasure:
		if r.at == 0 && r.load == float64(set.BenchLoad.Value) {
			return "tip-drop"
		}
	case models.ThirdLoadMeasure:
		return "third-load"
	case models.TestCurveMeasure:
		return "test-curve"
	case models.CountMeasure:
		return "recovery"
	case models.SettleMeasure:
		return "settle"
	}
	return ""
}

// AsFigure is the value and the standard deviation of the figure that the
// reading is of.
func (r *Reading) AsFigure() (value, deviation float64) {
	if r.What == models.CountMeasure {
		return r.Value / r.during, r.Deviation / r.during
	}
	return r.Value, r.Deviation
}

// Name is what was read.
func (r *Reading) Name() Note {
	key := "readings." + string(r.What)
	switch {
	case r.label:
		key = "readings.label"
	case r.Section != "":
		key += " of section"
	case r.What == models.DropMeasure && r.at != 0:
		key += " at"
	}
	return NewNote(key, "section", r.Section, "swings", int(r.swings), "point", r.number, "place", quantity("m", r.at),
		"pivot", quantity("m", r.pivot), "load", quantity("N", r.load), "time", quantity("s", r.during))
}
