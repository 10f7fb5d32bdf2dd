package diffing

import (
	"math"

	"rodlore/evaluate"
)

// Verdict says whether a figure's change is one of the design, or such as rods
// built to one and the same spec show too.
type Verdict string

const (
	Real    Verdict = "yes"
	NotReal Verdict = "no"
	Unknown Verdict = "unknown" // a side was worked out without tolerances, or lacks the figure
)

// Real reports whether the figure changed in all but very few rods, and by more
// than its numerical error.
func (s Shift) Real() Verdict {
	if !s.Both() {
		return Unknown
	}
	against := s.InPairs().Against
	switch {
	case against <= evaluate.Few:
		return Real
	case !math.IsNaN(against) || math.Abs(s.Change) <= s.Error:
		return NotReal
	}
	return Unknown
}
