package say

import "rodlore/diffing"

// Group is what a maker calls one change.
func (w *Words) Group(g diffing.Group) string {
	return w.Say("groups."+string(g.Kind), "name", g.Of)
}
