package diffing

import "strings"

// Group is what a maker calls one change.
type Group string

const (
	RingPattern Group = "ring pattern" // count and places
	RingParts   Group = "ring parts"
	Joints      Group = "joint"
	Handle      Group = "handle"
	Finish      Group = "whipping and finish"
	Wording     Group = "wording" // what the rod is for and how it is called: no figure hangs on it
	Settings    Group = "limits and habits"
)

// groupOf is the group of a change at path. Blanks are grouped by section,
// shared parts by part.
func groupOf(path string) Group {
	entry, leaf := splitEntry(path)
	head, _, _ := strings.Cut(path, "[")
	head, _, _ = strings.Cut(head, ".")
	switch head {
	case "rings":
		return ringGroup(leaf)
	case "sections":
		return Group("blank of " + keyOf(entriesOf(path)[0]))
	case "joints":
		return Joints
	case "handle", "held", "reel":
		return Handle
	case "finish":
		return Finish
	case "parts", "materials":
		return Group("shared " + keyOf(entry))
	case "wants", "tolerances", "casts", "line":
		return Settings
	case "length":
		return Group("blank")
	}
	return Wording
}

func ringGroup(leaf string) Group {
	switch leaf {
	case ".part":
		return RingParts
	case ".whipping":
		return Finish
	}
	return RingPattern
}

// keyOf is what stands between an entry's brackets.
func keyOf(entry string) string {
	return entry[strings.LastIndexByte(entry, '[')+1 : len(entry)-1]
}
