package say

import (
	"strings"

	"rodlore/catalogue/plan"
)

// Unreachable says which limits keep the goal of a plan out of reach, a line each,
// and in how many releases it can be reached.
func (t Teller) Unreachable(u *plan.Unreachable) string {
	head, last := t.Count("plan.out of reach", u.Releases), ""
	switch {
	case u.Hopeless():
		head = t.Say("plan.never")
	case u.Least > 0 && u.Least < u.Releases:
		last = t.Count("plan.fewer", u.Least)
	case u.Least == 0:
		last = t.Count("plan.none", plan.MostReleases)
	default:
		last = t.Count("plan.least", u.Least)
	}
	lines := []string{head}
	for _, s := range u.Stops {
		lines = append(lines, t.stop(s))
	}
	if last != "" {
		lines = append(lines, last)
	}
	return strings.Join(lines, "\n")
}

// stop says what one limit stops.
func (t Teller) stop(s plan.Stop) string {
	text := t.Say("plan.stop", "aspect", t.Aspect(s.Aspect), "change", t.FromTo(s.Sight))
	if by := t.By(s.Sight); by != "" {
		text += ", " + by
	}
	if limit := t.Limit(s.Sight); limit != "" {
		if s.Unit == "" {
			text += t.Say("plan.stays")
		} else {
			text += t.Say("plan.allows", "limit", limit)
		}
		if !s.Own {
			text += t.Say("plan.common")
		}
	}
	switch {
	case s.Never != "":
		text += t.Say("plan.because." + string(s.Never))
	case s.Releases > 0:
		text += t.Count("plan.takes", s.Releases)
	}
	return text
}
