package diffing

import (
	"math"

	"rodlore/evaluate"
)

// SameAction is how far two bends, each at the load that lowers its own tip by a
// third of its free length, may be turned from each other anywhere and be one
// action: half a class. A rod that bends evenly turns its tip by 30° then and one
// that bends in the tip by 60°, and the trade sorts what lies between into three
// actions, through, middle and tip, 10° apart (common practice, no source).
const SameAction = 5 * math.Pi / 180

// AnswerActions says whether two rods have one action at two powers, which is the
// Same, or two, which is Changed: as with a figure, in all but few pairs of rods.
func AnswerActions(a evaluate.Actions) Answer {
	switch {
	case a.High <= SameAction:
		return Same
	case a.Low > SameAction:
		return Changed
	}
	return Open
}
