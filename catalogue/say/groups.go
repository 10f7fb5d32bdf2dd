package say

import (
	"strings"

	"rodlore/diffing"
)

// Group is what a maker calls one change.
func (w *Words) Group(g diffing.Group) string {
	for _, path := range []string{"groups.blank of", "groups.shared"} {
		if name, ok := strings.CutPrefix(string(g), strings.TrimPrefix(path, "groups.")+" "); ok {
			return w.Say(path, "name", name)
		}
	}
	return w.Say("groups." + string(g))
}
