package evaluate

import (
	"fmt"
	"math"

	"rodlore/models/units"
)

// Place writes a distance in metres as a tape shows it: to the millimetre, or to
// the sixteenth of an inch where imperial units alone are wanted.
func (d Display) Place(m float64) string {
	if d.Units == "imperial" {
		return Sixteenths(m) + " in"
	}
	return d.Single("").Value("", "m", m)
}

// Sixteenths writes a distance in metres in inches, to the sixteenth that a tape
// shows: "6 5/16".
func Sixteenths(m float64) string {
	n := int(math.Round(m / units.Size("in") * 16))
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
