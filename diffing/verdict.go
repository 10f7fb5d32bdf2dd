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

// mostAgainst is the share of pairs of rods, one built to either spec, in which a
// real change may not show: as many as lie beyond two standard deviations on one
// side of a normal distribution (JCGM 100:2008, 6.3.3).
const mostAgainst = 0.0228

// Real reports whether the figure changed in all but very few rods, and by more
// than its numerical error.
func (s Shift) Real() Verdict {
	if !s.Both() {
		return Unknown
	}
	c, ok := s.InPairs()
	switch {
	case ok && c.Against <= mostAgainst:
		return Real
	case ok || math.Abs(s.Change) <= s.Error:
		return NotReal
	}
	return Unknown
}
