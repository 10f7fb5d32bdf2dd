package models

import "fmt"

// The paths of list entries, for fields and faults alike.

func sectionPath(s Section) string { return "sections[" + s.Name.Text + "]" }

func jointPath(j Joint) string {
	return fmt.Sprintf("joints[%s+%s]", j.Between[0], j.Between[1])
}

func ringPath(r Ring) string { return "rings[" + atLabel(r.At.Value) + "]" }

func gripPath(g Grip) string { return "handle.grips[" + atLabel(g.From.Value) + "]" }

func plyPath(under string, i int) string { return fmt.Sprintf("%s.plies[%d]", under, i+1) }
