package diffing

import (
	"math"
	"slices"

	"rodlore/evaluate"
	"rodlore/models"
)

// Group is what a maker calls one change.
type Group struct {
	Kind GroupKind
	Of   string // the section or the shared entry; "" for what there is one of
}

// GroupKind is a kind of Group.
type GroupKind string

// Of these there is one for each section, shared entry or top.
const (
	BlankKind  GroupKind = "blank of"
	CutKind    GroupKind = "blank cut of"
	SharedKind GroupKind = "shared"
	TopKind    GroupKind = "top"
)

var (
	RingPattern  = Group{Kind: "ring pattern"} // count and places
	RingParts    = Group{Kind: "ring parts"}
	Sections     = Group{Kind: "sections"}        // another division of the blank, with joints and fit
	Mounted      = Group{Kind: "what is mounted"} // all of rings, handle and finish, where one of the rods is a bare blank
	Joints       = Group{Kind: "joint"}
	Handle       = Group{Kind: "handle"}
	Finish       = Group{Kind: "whipping and finish"}
	StatedLength = Group{Kind: "blank"}   // the length that the spec states
	Wording      = Group{Kind: "wording"} // what the rod is for and how it is called: no figure hangs on it
	Settings     = Group{Kind: "limits and habits"}
	Fitted       = Group{Kind: "fitted to a rod"} // what a measured rod taught: of the numbers, not of the rod
	BlankRead    = Group{Kind: "blank as read"}   // what was read of a bought blank: of the numbers too
)

// BlankOf is the group of one section's blank.
func BlankOf(section string) Group { return Group{BlankKind, section} }

// CutOf is the group of a cut of one section's blank, shorter or longer.
func CutOf(section string) Group { return Group{CutKind, section} }

// SharedBy is the group of one shared part or material.
func SharedBy(name string) Group { return Group{SharedKind, name} }

// TopOf is the group of another top that goes on the same butt.
func TopOf(name string) Group { return Group{TopKind, name} }

// String is the name of the group in data and on command lines, "blank of tip".
func (g Group) String() string {
	if g.Of == "" {
		return string(g.Kind)
	}
	return string(g.Kind) + " " + g.Of
}

// grouping sorts changes from one spec to another.
type grouping struct {
	old, now *models.Spec
	divided  bool             // the blank is made of other sections, which is one change with what names them
	sections map[string]Group // of those asked for
}

// groupOf is the group of a change at path.
func (g grouping) groupOf(path models.Path) Group {
	head := path[0]
	switch head.Key {
	case "rings":
		return ringGroup(path.Last())
	case "sections", "joints", "fitted":
		return g.blankGroup(head)
	case "handle", "held", "reel":
		return Handle
	case "finish":
		return Finish
	case "parts", "materials":
		return SharedBy(head.Entry)
	case "tops":
		return TopOf(head.Entry)
	case "wants", "tolerances", "casts", "line":
		return Settings
	case "length":
		return StatedLength
	case "blank":
		return g.readGroup()
	}
	return Wording
}

// readGroup is that of what was read of a bought blank. Where the blank was cut or is
// another, its readings go with the first section of which that is so.
func (g grouping) readGroup() Group {
	if g.divided {
		return Sections
	}
	for i, s := range g.now.Sections {
		if evaluate.TaperOf(g.now, i).Blank == evaluate.TaperOf(g.old, i).Blank {
			continue
		}
		if group := g.sectionGroup(s.Name.Text); group != BlankRead {
			return group
		}
	}
	return BlankRead
}

// blankGroup is that of a section, a joint or a fit.
func (g grouping) blankGroup(head models.Segment) Group {
	switch {
	case g.divided:
		return Sections
	case head.Key == "joints":
		return Joints
	case head.Key == "fitted":
		return Fitted
	}
	return g.sectionGroup(head.Entry)
}

// sectionGroup is that of a section, found once.
func (g grouping) sectionGroup(section string) Group {
	group, ok := g.sections[section]
	if !ok {
		group = sectionGroup(section, g.old, g.now)
		g.sections[section] = group
	}
	return group
}

// sectionGroup is that of a section that changed: another blank, or the same one, cut
// or, where it was bought, callipered and weighed anew.
// A cut belongs to a joint that is made otherwise where it is at that joint, or where
// it keeps the rod as long as it was.
func sectionGroup(section string, old, now *models.Spec) Group {
	i := now.SectionIndex(section)
	cut, ok := evaluate.TaperOf(now, i).CutFrom(evaluate.TaperOf(old, i))
	if !ok {
		return BlankOf(section)
	}
	above, below := rejoined(old, now, i), rejoined(old, now, i-1)
	asLong := math.Abs(now.TotalLength()-old.TotalLength()) < unseen && (above || below)
	thin, thick := math.Abs(cut.Thin) >= unseen, math.Abs(cut.Thick) >= unseen
	if !thin && !thick && now.Sections[i].Bought != nil {
		return BlankRead
	}
	if !thin && !thick || !asLong && (thin && !above || thick && !below) {
		return CutOf(section)
	}
	return Joints
}

// rejoined reports whether a joint is made otherwise; none stands at an end of the
// rod.
func rejoined(old, now *models.Spec, joint int) bool {
	if joint < 0 || joint >= len(now.Joints) {
		return false
	}
	a, b := old.Joints[joint], now.Joints[joint]
	return a.Kind != b.Kind || a.Length.Value != b.Length.Value || a.Gap.Value != b.Gap.Value
}

// divided reports whether two specs are made of other sections, by name or
// order.
func divided(old, now *models.Spec) bool {
	return !slices.EqualFunc(old.Sections, now.Sections, func(a, b models.Section) bool { return a.Name.Text == b.Name.Text })
}

func ringGroup(leaf string) Group {
	switch leaf {
	case "part":
		return RingParts
	case "whipping":
		return Finish
	}
	return RingPattern
}

// Edit is what a maker calls one change, with all that belongs to it.
type Edit struct {
	Group   Group
	Changes []Change
}

// Edits sorts changes by group, in the order in which the groups first come up.
// Respellings are no change of the rod and left out.
func Edits(changes []Change) []Edit {
	var edits []Edit
	for _, c := range changes {
		if c.Kind == Respelled {
			continue
		}
		i := slices.IndexFunc(edits, func(e Edit) bool { return e.Group == c.Group })
		if i < 0 {
			i = len(edits)
			edits = append(edits, Edit{Group: c.Group})
		}
		edits[i].Changes = append(edits[i].Changes, c)
	}
	return edits
}

// OnPaper reports whether an edit leaves the rod as it is: it changes what is said
// of it, what is wanted of it or what is paid for its parts.
func (e Edit) OnPaper() bool {
	if e.Group == Wording || e.Group == Settings {
		return true
	}
	return !slices.ContainsFunc(e.Changes, func(c Change) bool { return !c.Beside() })
}

// Beside reports whether what changed is no part of the rod, as a price or a want.
func (c Change) Beside() bool { return !(models.Field{Path: c.Path}).OfRod() }
