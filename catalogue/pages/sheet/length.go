package sheet

import (
	"fmt"

	"rodlore/models/units"
)

// millimetres writes a length in metres to the millimetre.
func millimetres(m float64) string { return fmt.Sprintf("%.0f mm", 1e3*m) }

// bothUnits writes a length in metres to the millimetre and to the sixteenth of
// an inch.
func bothUnits(m float64) string { return millimetres(m) + " (" + units.Sixteenths(m) + " in)" }
