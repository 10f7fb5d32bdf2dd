package evaluate

import (
	"fmt"
	"strings"

	"rodlore/models"
	"rodlore/models/units"
)

// Condition is one of a range's settings that figures hang on, written the one
// way that its value has.
type Condition struct{ Name, Text string }

// Conditions lists the settings that figures, but for their tolerances, hang on.
func Conditions(set *models.Settings) []Condition {
	return []Condition{
		{"test curve", fmt.Sprintf("pull %s, turn %s, line %s",
			measure(set.TestCurve.Pull.Value, "deg"), measure(set.TestCurve.Turn.Value, "deg"), set.TestCurve.Line)},
		{"bench load", measure(set.BenchLoad.Value, "N")},
		{"strain factor", fmt.Sprintf("%.6g", set.StrainFactor)},
		{"damping", measure(set.Damping.Value, "%")},
		{"foot bonding", measure(set.FootBonding.Value, "%")},
		{"bench times", benchTimesText(&set.BenchTimes)},
	}
}

func measure[U ~float64](v U, unit string) string {
	return fmt.Sprintf("%.6g %s", float64(v)/units.Size(unit), unit)
}

func benchTimesText(t *models.BenchTimes) string {
	var parts []string
	for _, each := range []models.Given[units.Duration]{t.Ring, t.Foot, t.TipRing, t.Joint, t.Grip, t.Seat, t.Cap, t.Varnish} {
		parts = append(parts, fmt.Sprintf("%.6g", float64(each.Value)/units.Size("min")))
	}
	return strings.Join(parts, ", ") + " min"
}
