package say

import "rodlore/diffing"

// Aspect is what of a rod is seen.
func (w *Words) Aspect(a diffing.Aspect) string { return w.Say("aspects." + string(a)) }

// Look, Things and Taper make Words the diffing.Phrases of their language.

func (w *Words) Look(name string) string { return w.Say("looks." + name) }

func (w *Words) Things(thing string, n int) string { return w.Count("looks."+thing, n) }

func (w *Words) Taper(back, front string) string {
	return w.Say("looks.taper", "back", back, "front", front)
}
