package say

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"rodlore/diffing"
)

// Content is what a spec says at one place: "SL-8 at 310 mm", "1565 mm, carbon".
func (w *Words) Content(c diffing.Content) string {
	switch {
	case c.At == "":
		return c.Text
	case c.What == "":
		return w.Say("changes.place", "place", c.At)
	}
	return w.Say("changes.at", "what", c.What, "place", c.At)
}

// Difference says one change in a few words, under the heading of its group.
func (w *Words) Difference(c diffing.Change) string {
	switch c.Kind {
	case diffing.Added:
		return "+ " + w.named(c, c.New)
	case diffing.Removed:
		return "− " + w.named(c, c.Old)
	case diffing.Moved:
		return w.moved(c)
	}
	return w.where(c) + ": " + w.Content(c.Old) + " → " + w.Content(c.New)
}

// named says what came or went. A part or a material is named with where it stands;
// anything else by its place in the spec.
func (w *Words) named(c diffing.Change, content diffing.Content) string {
	switch {
	case content.What != "":
		return w.Content(content)
	case content.At != "":
		return w.where(c)
	}
	return w.where(c) + ": " + w.Content(content)
}

// moved says a move along the rod; what moved is said once where it is the
// same on both sides.
func (w *Words) moved(c diffing.Change) string {
	if c.Old.What != c.New.What {
		return w.Content(c.Old) + " → " + w.Content(c.New)
	}
	return cmp.Or(c.New.What, w.where(c)) + ": " + c.Old.At + " → " + c.New.At
}

// where puts the path of a change into words: "sections[tip].tube[at 0 mm].wall"
// is "tube at 0 mm, wall". What the heading of the group says is left out.
func (w *Words) where(c diffing.Change) string {
	words := make([]string, len(c.Path))
	for i, step := range c.Path {
		words[i] = step.Key
		if step.Entry == "" {
			continue
		}
		if one := "changes.entries." + step.Key; w.Has(one) {
			words[i] = w.Say(one)
		}
		words[i] += " " + step.Entry
	}
	if len(words) > 1 && saidByGroup(c.Group, c.Path[0].Key) {
		words = words[1:]
	}
	if last := len(words) - 1; last > 0 && saidByValue[words[last]] {
		words = words[:last]
	}
	return strings.Join(words, ", ")
}

// saidByGroup reports whether the heading of a change's group names what is under
// the first key of its path.
func saidByGroup(group diffing.Group, key string) bool {
	switch key {
	case "sections":
		return group.Blank() || group.Cut()
	case "joints", "fitted":
		return group != diffing.Sections // of which there are several
	case "parts", "materials", "handle", "finish", "tops":
		return true
	}
	return false
}

// saidByValue are last steps of a path that a value makes plain: what a ring
// was and is needs no "part" before it.
var saidByValue = map[string]bool{"part": true, "material": true, "least": true, "most": true}

// Summary says the changes of one group in one line, of at most so many items;
// 0 means all. Moves beyond two are counted.
func (w *Words) Summary(changes []diffing.Change, most int) string {
	var items []string
	moves := slices.DeleteFunc(slices.Clone(changes), func(c diffing.Change) bool { return c.Kind != diffing.Moved })
	for _, c := range changes {
		if c.Kind != diffing.Moved || len(moves) <= 2 {
			items = append(items, w.Difference(c))
		}
	}
	items = slices.Compact(items) // a limit of two sides is told once
	if more := len(items) - most; more > 0 && most > 0 {
		items = append(items[:most], w.Say("changes.more", "n", strconv.Itoa(more)))
	}
	if len(moves) > 2 {
		items = append(items, w.Say("changes.moved", "n", strconv.Itoa(len(moves))))
	}
	return strings.Join(items, "; ")
}
