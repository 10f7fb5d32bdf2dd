package diffing

import "math"

// Verdict says whether a figure's change is one of the design, or such as rods
// built to one and the same spec show too.
type Verdict string

const (
	Real    Verdict = "yes"
	NotReal Verdict = "no"
	Unknown Verdict = "unknown" // a side was worked out without tolerances, or lacks the figure
)

// String says the verdict beside a change.
func (v Verdict) String() string {
	switch v {
	case Real:
		return "real change"
	case NotReal:
		return "no real change"
	}
	return "not known whether real"
}

// coverage is how many standard deviations a change must exceed: at two, one
// rod in twenty-odd of the same design would (JCGM 100:2008, 6.3.3).
const coverage = 2

// Real reports whether the figure changed by more than two standard deviations
// of the change and its numerical error.
func (s Shift) Real() Verdict {
	switch change := math.Abs(s.Change); {
	case !s.Both():
		return Unknown
	case change <= s.Error:
		return NotReal
	case math.IsNaN(s.Tolerance):
		return Unknown
	case change > s.Error+coverage*s.Tolerance:
		return Real
	}
	return NotReal
}
