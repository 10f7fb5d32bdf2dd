package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"rodlore/catalogue"
	"rodlore/diffing"
	"rodlore/evaluate"
)

// mainFigures are those that a maker looks at first; they stand for the whole
// where there is room for a few only.
var mainFigures = []string{"weight", "rings", "third-load", "test-curve", "recovery", "flat-turn"}

// short is the display for lines and tables that have no room for two systems
// of units. The trade names a test curve in pounds, whatever else it measures
// in.
func short(d evaluate.Display, key string) evaluate.Display {
	switch {
	case key == "test-curve":
		d.Units = "imperial"
	case d.Units == "both":
		d.Units = "metric"
	}
	return d
}

// title names a revision: "Skerry 10, 2026 (2026-01-18, 5c2e1f0a)".
func title(r *catalogue.Revision) string {
	name := r.Model
	if r.Spec != nil {
		name = r.Spec.Name.Text
	}
	return name + ", " + standing(r)
}

// standing says which revision it is.
func standing(r *catalogue.Revision) string {
	switch r.Status {
	case catalogue.Released:
		return fmt.Sprintf("%s (%s, %s)", strings.Join(r.Labels, " and "), day(r.When), r.ShortID())
	case catalogue.Prototype:
		same := ""
		if r.Again != "" {
			same = ", the same rod as " + r.Again
		}
		return fmt.Sprintf("prototype (%s, %s%s)", day(r.When), r.ShortID(), same)
	}
	return "draft (not saved)"
}

// heading names a revision at the top of a column, in a word.
func heading(r *catalogue.Revision) string {
	switch r.Status {
	case catalogue.Released:
		return r.Label()
	case catalogue.Prototype:
		return day(r.When)
	}
	return "draft"
}

func day(t time.Time) string { return t.Format(time.DateOnly) }

// respelled counts the values that are only written otherwise.
func respelled(changes []diffing.Change) int {
	n := 0
	for _, c := range changes {
		if c.Kind == diffing.Respelled {
			n++
		}
	}
	return n
}

// tell says one change in a few words, under the heading of its group.
func tell(c diffing.Change) string {
	subject := where(c)
	switch c.Kind {
	case diffing.Added:
		return "+ " + named(subject, c.New)
	case diffing.Removed:
		return "− " + named(subject, c.Old)
	case diffing.Moved:
		return moved(c)
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
func moved(c diffing.Change) string {
	oldWhat, oldPlace, _ := cutLast(c.Old, "at ")
	newWhat, newPlace, _ := cutLast(c.New, "at ")
	if oldWhat != newWhat {
		return c.Old + " → " + c.New
	}
	what := strings.TrimSpace(newWhat)
	if what == "" {
		what = where(c)
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
func where(c diffing.Change) string {
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
func saidByGroup(group diffing.Group, step string) bool {
	list, _, _ := strings.Cut(step, "[")
	switch list {
	case "sections", "joints", "fitted":
		return group != diffing.Sections // of which there are several
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

// summary says the changes of one group in one line, of at most a few items:
// moves beyond two are counted.
func summary(changes []diffing.Change, most int) string {
	var items []string
	moves := slices.DeleteFunc(slices.Clone(changes), func(c diffing.Change) bool { return c.Kind != diffing.Moved })
	for _, c := range changes {
		if c.Kind != diffing.Moved || len(moves) <= 2 {
			items = append(items, tell(c))
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

// differences tells what changed, in short lines of a group each.
func (p *program) differences(indent string, changes []diffing.Change, most int) {
	t := table{columns: []column{{}, {wraps: true}}}
	for _, e := range diffing.Edits(changes) {
		t.add(string(e.Group), summary(e.Changes, most))
	}
	p.print(indent, t)
}
