package plan

import (
	"fmt"
	"slices"

	"rodlore/diffing"
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
	Releases int   // that this change alone takes; 0 where that is not known or no number does
	Never    Never // why no number of releases does; "" where one does
}

// Never is why no number of releases makes a change.
type Never string

const (
	Whole  Never = "whole"  // there is nothing in between
	Fixed  Never = "fixed"  // its limit is none at all
	Long   Never = "long"   // no plan is so long
	Apart  Never = "apart"  // start and goal are not made of the same pieces
	Coarse Never = "coarse" // the lengths in the specs are too coarse to be divided
)

// Hopeless reports whether no number of releases reaches the goal.
func (u *Unreachable) Hopeless() bool {
	return slices.ContainsFunc(u.Stops, func(s Stop) bool { return s.Never != "" })
}

func (u *Unreachable) Error() string {
	return "the goal is out of reach in " + releases(u.Releases) + " within the limits"
}

func releases(n int) string {
	if n == 1 {
		return "1 release"
	}
	return fmt.Sprintf("%d releases", n)
}
