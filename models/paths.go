package models

import (
	"slices"
	"strconv"
	"strings"
)

// Path leads to a place of a spec, step by step from its top. It stays the same
// when a list is reordered, whose entries go by their name or their place.
type Path []Step

// Step is a key, or an entry of the list that stands under it.
type Step struct {
	Key   string // "sections", "wall"
	Entry string // "tip", "at 0 mm"; "" for the key itself
}

// String writes the path as people do: "sections[tip].tube[at 0 mm].wall".
func (p Path) String() string {
	var b strings.Builder
	b.Grow(24 * len(p))
	for i, s := range p {
		if i > 0 {
			b.WriteByte('.')
		}
		b.WriteString(s.Key)
		if s.Entry != "" {
			b.WriteByte('[')
			b.WriteString(s.Entry)
			b.WriteByte(']')
		}
	}
	return b.String()
}

// To leads on to the keys below, one in the other.
func (p Path) To(keys ...string) Path {
	to := slices.Clip(p)
	for _, key := range keys {
		to = append(to, Step{Key: key})
	}
	return to
}

// In leads on to an entry of the list below.
func (p Path) In(list, entry string) Path { return append(slices.Clip(p), Step{list, entry}) }

// Leads reports whether other is p or lies below it.
func (p Path) Leads(other Path) bool {
	return len(p) <= len(other) && slices.Equal(p, other[:len(p)])
}

// Entry is the path as far as the last entry of a list; empty outside of lists.
func (p Path) Entry() Path {
	n := len(p)
	for n > 0 && p[n-1].Entry == "" {
		n--
	}
	return p[:n]
}

// Last is the key of the last step; "" of the empty path.
func (p Path) Last() string {
	if len(p) == 0 {
		return ""
	}
	return p[len(p)-1].Key
}

// The paths of list entries, for fields and faults alike.

func sectionPath(s Section) Path { return Path{{"sections", s.Name.Text}} }

func jointPath(j Joint) Path {
	return Path{{"joints", j.Between[0].Text + "+" + j.Between[1].Text}}
}

// RingPath leads to a ring.
func RingPath(r Ring) Path { return Path{{"rings", atLabel(r.At.Value)}} }

func gripPath(g Grip) Path { return Path{{Key: "handle"}, {"grips", atLabel(g.From.Value)}} }

func measuredPath(i int) Path {
	return Path{{Key: "blank"}, {"measured", strconv.Itoa(i + 1)}}
}

func plyPath(under Path, i int) Path { return under.In("plies", strconv.Itoa(i+1)) }
