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
	said := t.Say("plan.stop", "aspect", t.Aspect(s.Aspect), "change", t.FromTo(s.Sight))
	if by := t.By(s.Sight); by != "" {
		said = t.Say("plan.by", "stop", said, "by", by)
	}
	limit := t.Limit(s.Sight)
	switch {
	case limit == "":
	case s.Unit == "":
		said = t.Say("plan.stays", "stop", said)
	case s.Own:
		said = t.Say("plan.allows", "stop", said, "limit", limit)
	default:
		said = t.Say("plan.common", "stop", said, "limit", limit)
	}
	switch {
	case s.Never != "":
		return t.Say("plan.because."+string(s.Never), "stop", said)
	case s.Releases > 0:
		return t.Count("plan.takes", s.Releases, "stop", said)
	}
	return said
}
