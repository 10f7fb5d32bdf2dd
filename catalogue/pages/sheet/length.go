package sheet

import (
	"fmt"
	"strings"

	"rodlore/models/units"
)

// millimetres writes a length in metres to the millimetre, never in two lines.
func millimetres(m float64) string { return fmt.Sprintf("%.0f\u00a0mm", 1e3*m) }

// bothUnits writes a length in metres to the millimetre and to the sixteenth of
// an inch.
func bothUnits(m float64) string { return millimetres(m) + " (" + units.Sixteenths(m) + "\u00a0in)" }

// length writes a length in metres in the range's units, never in two lines.
func (s *sheet) length(m float64) string {
	if s.Units != "imperial" {
		return millimetres(m)
	}
	return strings.ReplaceAll(s.Place(m), " ", "\u00a0")
}
