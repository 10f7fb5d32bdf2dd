package diffing

import (
	"fmt"
	"slices"
	"strings"
)

// Tell says one change in a few words, under the heading of its group.
func (c Change) Tell() string {
	subject := c.where()
	switch c.Kind {
	case Added:
		return "+ " + named(subject, c.New)
	case Removed:
		return "− " + named(subject, c.Old)
	case Moved:
		return c.moved()
	}
	return fmt.Sprintf("%s: %s → %s", subject, c.Old, c.New)
}

// named says what came or went. An entry of a list is named by its content,
// which says where it stands; a single value by its place in the spec too.
func named(subject, content string) string {
	if strings.Contains(content, " at ") {
		return content
	}
	return subject + ": " + content
}

// moved says a move along the rod; what moved is said once where it is the
// same on both sides.
func (c Change) moved() string {
	oldWhat, oldPlace, _ := cutLast(c.Old, "at ")
	newWhat, newPlace, _ := cutLast(c.New, "at ")
	if oldWhat != newWhat {
		return c.Old + " → " + c.New
	}
	what := strings.TrimSpace(newWhat)
	if what == "" {
		what = c.where()
	}
	return fmt.Sprintf("%s: %s → %s", what, oldPlace, newPlace)
}

func cutLast(s, sep string) (before, after string, found bool) {
	if i := strings.LastIndex(s, sep); i >= 0 {
		return s[:i], s[i+len(sep):], true
	}
	return s, "", false
}

// singular names one entry of a list of the spec.
var singular = map[string]string{
	"sections": "section", "joints": "joint", "rings": "ring", "grips": "grip",
	"plies": "ply", "parts": "part", "materials": "material",
}

// where puts the path of a change into words: "sections[tip].tube[at 0 mm].wall"
// is "tube at 0 mm, wall". What the heading of the group says is left out.
func (c Change) where() string {
	steps := splitPath(c.Path)
	words := make([]string, len(steps))
	for i, step := range steps {
		list, key, isEntry := strings.Cut(strings.TrimSuffix(step, "]"), "[")
		words[i] = step
		if isEntry {
			if one, ok := singular[list]; ok {
				list = one
			}
			words[i] = list + " " + key
		}
	}
	if len(words) > 1 && saidByGroup(c.Group, steps[0]) {
		words = words[1:]
	}
	if last := len(words) - 1; last > 0 && saidByValue[words[last]] {
		words = words[:last]
	}
	return strings.Join(words, ", ")
}

// saidByGroup reports whether the heading of a change's group names the first
// step of its path.
func saidByGroup(group Group, step string) bool {
	list, _, _ := strings.Cut(step, "[")
	switch list {
	case "sections", "joints", "fitted":
		return group != Sections // of which there are several
	case "parts", "materials", "handle", "finish":
		return true
	}
	return false
}

// saidByValue are last steps of a path that a value makes plain: what a ring
// was and is needs no "part" before it.
var saidByValue = map[string]bool{"part": true, "material": true, "least": true, "most": true}

// splitPath parts a path at the points outside brackets.
func splitPath(path string) []string {
	var steps []string
	start, depth := 0, 0
	for i, r := range path {
		switch {
		case r == '[':
			depth++
		case r == ']':
			depth--
		case r == '.' && depth == 0:
			steps = append(steps, path[start:i])
			start = i + 1
		}
	}
	return append(steps, path[start:])
}

// Summary says the changes of one group in one line, of at most so many items;
// 0 means all. Moves beyond two are counted.
func Summary(changes []Change, most int) string {
	var items []string
	moves := slices.DeleteFunc(slices.Clone(changes), func(c Change) bool { return c.Kind != Moved })
	for _, c := range changes {
		if c.Kind != Moved || len(moves) <= 2 {
			items = append(items, c.Tell())
		}
	}
	items = slices.Compact(items) // a limit of two sides is told once
	if more := len(items) - most; more > 0 && most > 0 {
		items = append(items[:most], fmt.Sprintf("and %d more", more))
	}
	if len(moves) > 2 {
		items = append(items, fmt.Sprintf("%d moved", len(moves)))
	}
	return strings.Join(items, "; ")
}
