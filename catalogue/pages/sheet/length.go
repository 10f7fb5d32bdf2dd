package sheet

import (
	"fmt"

	"rodlore/models/units"
)

// millimetres writes a length in metres to the millimetre, never in two lines.
func millimetres(m float64) string { return fmt.Sprintf("%.0f\u00a0mm", 1e3*m) }

// bothUnits writes a length in metres to the millimetre and to the sixteenth of
// an inch.
func bothUnits(m float64) string { return millimetres(m) + " (" + units.Sixteenths(m) + "\u00a0in)" }
