package sheet

import (
	"fmt"
	"math"
)

// sixteenths writes a length in metres in inches, to the sixteenth that a tape
// shows: "6 5/16".
func sixteenths(m float64) string {
	const inch = 0.0254 // exactly, by the international agreement of 1959
	n := int(math.Round(m / inch * 16))
	whole, part, of := n/16, n%16, 16
	for part > 0 && part%2 == 0 {
		part, of = part/2, of/2
	}
	switch {
	case part == 0:
		return fmt.Sprint(whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d", part, of)
	}
	return fmt.Sprintf("%d %d/%d", whole, part, of)
}

// millimetres writes a length in metres to the millimetre.
func millimetres(m float64) string { return fmt.Sprintf("%.0f mm", 1e3*m) }

// bothUnits writes a length in metres to the millimetre and to the sixteenth of
// an inch.
func bothUnits(m float64) string { return millimetres(m) + " (" + sixteenths(m) + " in)" }
