package plan

import (
	"fmt"
	"strings"

	"rodlore/diffing"
	"rodlore/models"
)

// MostReleases is how many releases a plan may have.
const MostReleases = 20

// Unreachable says that a goal cannot be reached within the limits.
type Unreachable struct {
	Releases int // that were asked for
	Least    int // that it takes; 0 where no number does that a plan may have
	Stops    []Stop
}

// Stop is one limit that keeps the goal out of reach.
type Stop struct {
	diffing.Sight
	Releases int    // that this change alone takes; 0 where that is not known or no number does
	Never    string // why no number of releases does; "" where one does
}

// Error says which limits stop it, a line each, and what number of releases will
// do.
func (u *Unreachable) Error() string {
	never := false
	var stops []string
	for _, s := range u.Stops {
		stops = append(stops, s.String())
		never = never || s.Never != ""
	}
	head, last := "the goal is out of reach in "+releases(u.Releases)+" within the limits", "it takes "+releases(u.Least)
	switch {
	case never:
		head, last = "the goal is out of reach within the limits, in however many releases", ""
	case u.Least > 0 && u.Least < u.Releases:
		last = "some of its edits only go together, and so it is within reach in " + releases(u.Least)
	case u.Least == 0:
		last = fmt.Sprintf("nor is it within reach in any number up to %d", MostReleases)
	}
	lines := append([]string{head}, stops...)
	if last != "" {
		lines = append(lines, last)
	}
	return strings.Join(lines, "\n")
}

func (s Stop) String() string {
	text := fmt.Sprintf("%s: %s → %s", s.Aspect, s.Old, s.New)
	if s.By != "" {
		text += ", " + s.By
	}
	switch s.Most {
	case "":
	case models.Stays:
		text += "; steps in range.yaml say that it stays"
	default:
		text += "; a release allows " + s.Most
	}
	if s.Most != "" && !s.Own {
		text += " (common practice)"
	}
	switch {
	case s.Never != "":
		text += ", " + s.Never
	case s.Releases > 0:
		text += ", so this takes " + releases(s.Releases)
	}
	return text
}

func releases(n int) string {
	if n == 1 {
		return "1 release"
	}
	return fmt.Sprintf("%d releases", n)
}
