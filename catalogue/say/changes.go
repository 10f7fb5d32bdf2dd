package say

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"rodlore/diffing"
	"rodlore/evaluate/figures"
	"rodlore/models"
	"rodlore/models/units"
)

// Content is what a spec says at one place: "SL-8 at 310 mm", "1565 mm, carbon", of a
// part or a material "size 6 mm, mass 0.32 g, price 2.10".
func (t Teller) Content(c diffing.Content) string {
	switch {
	case c.Want.Text != "" && t.Units == "imperial":
		return t.Want(c.Want)
	case c.Want.Text != "":
		return t.Written(units.Quantity{Unit: figures.Of(c.Want.Figure).Unit, Text: c.Want.Text})
	case c.At.Text != "" && c.What == "":
		return t.Say("changes.place", "place", t.place(c.At))
	case c.At.Text != "":
		return t.Say("changes.at", "what", c.What, "place", t.place(c.At))
	case c.What != "":
		return c.What
	}
	return strings.Join(Each(c.Values, func(v diffing.Value) string {
		if c.Stock {
			return v.Key + " " + t.value(v)
		}
		return t.value(v)
	}), ", ")
}

// value is what stands at one place. The trade gives sizes of rings in millimetres
// everywhere (common practice, no source).
func (t Teller) value(v diffing.Value) string {
	if v.Key == "size" {
		return t.Single("butt-ring-size").Written(v.Quantity)
	}
	return t.Written(v.Quantity)
}

// place says where something stands as the range's tape has it.
func (t Teller) place(at units.Quantity) string {
	if t.Units != "imperial" {
		return t.Written(at)
	}
	return t.Place(at.Value)
}

// Difference says one change in a few words, under the heading of its group.
func (t Teller) Difference(c diffing.Change) string {
	switch c.Kind {
	case diffing.Added:
		return "+ " + t.named(c, c.New)
	case diffing.Removed:
		return "− " + t.named(c, c.Old)
	case diffing.Moved:
		return t.moved(c)
	}
	return t.where(c) + ": " + t.Content(c.Old) + " → " + t.Content(c.New)
}

// named says what came or went. A part or a material is named with where it stands;
// anything else by its place in the spec.
func (t Teller) named(c diffing.Change, content diffing.Content) string {
	switch {
	case content.What != "":
		return t.Content(content)
	case content.At.Text != "":
		return t.where(c)
	}
	return t.where(c) + ": " + t.Content(content)
}

// moved says a move along the rod; what moved is said once where it is the
// same on both sides.
func (t Teller) moved(c diffing.Change) string {
	if c.Old.What != c.New.What {
		return t.Content(c.Old) + " → " + t.Content(c.New)
	}
	return cmp.Or(c.New.What, t.where(c)) + ": " + t.place(c.Old.At) + " → " + t.place(c.New.At)
}

// where puts the path of a change into words: "sections[tip].tube[at 0 mm].wall"
// is "tube at 0 mm, wall". What the heading of the group says is left out.
func (t Teller) where(c diffing.Change) string {
	words := t.steps(c.Path)
	if len(words) > 1 && saidByGroup(c.Group, c.Path[0].Key) {
		words = words[1:]
	}
	if last := len(words) - 1; last > 0 && saidByValue[c.Path.Last()] {
		words = words[:last]
	}
	return strings.Join(words, ", ")
}

// PathWords puts a path into words, from its so manyth step on.
func (t Teller) PathWords(path models.Path, from int) string {
	return strings.Join(t.steps(path)[from:], ", ")
}

func (t Teller) steps(path models.Path) []string {
	words := make([]string, len(path))
	for i, step := range path {
		words[i] = step.Key
		if step.Entry == "" {
			continue
		}
		if one := "changes.entries." + step.Key; t.Has(one) {
			words[i] = t.Say(one)
		}
		words[i] += " " + t.entry(step)
	}
	return words
}

// entry says which entry of a list it is.
func (t Teller) entry(in models.Segment) string {
	if !in.Placed {
		return in.Entry
	}
	return t.Say("changes.place", "place", t.place(models.Millimetres(in.At).Quantity()))
}

// saidByGroup reports whether the heading of a change's group names what is under
// the first key of its path.
func saidByGroup(group diffing.Group, key string) bool {
	switch key {
	case "sections":
		return group.Kind == diffing.BlankKind || group.Kind == diffing.CutKind
	case "joints", "fitted":
		return group != diffing.Sections // of which there are several
	case "parts", "materials", "handle", "finish", "tops":
		return true
	}
	return false
}

// saidByValue are last keys of a path that a value makes plain: what a ring
// was and is needs no "part" before it.
var saidByValue = map[string]bool{"part": true, "material": true, "least": true, "most": true}

// Summary says the changes of one group in one line, of at most so many items;
// 0 means all. Moves beyond two are counted.
func (t Teller) Summary(changes []diffing.Change, most int) string {
	var items []string
	moves := slices.DeleteFunc(slices.Clone(changes), func(c diffing.Change) bool { return c.Kind != diffing.Moved })
	for _, c := range changes {
		if c.Kind != diffing.Moved || len(moves) <= 2 {
			items = append(items, t.Difference(c))
		}
	}
	items = slices.Compact(items) // a limit of two sides is told once
	if more := len(items) - most; more > 0 && most > 0 {
		items = append(items[:most], t.Say("changes.more", "n", strconv.Itoa(more)))
	}
	if len(moves) > 2 {
		items = append(items, t.Say("changes.moved", "n", strconv.Itoa(len(moves))))
	}
	return strings.Join(items, "; ")
}
