package models

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"rodlore/models/units"
)

// Path leads to a place of a spec, segment by segment from its top. It stays the same
// when a list is reordered, whose entries go by their name or their place.
type Path []Segment

// Segment is a key, or an entry of the list that stands under it.
type Segment struct {
	Key    string       // "sections", "wall"
	Entry  string       // "tip", "at 0 mm"; "" for the key itself
	At     units.Length // of an entry that is Placed
	Placed bool         // the entry goes by its place along the rod
}

// entryAt is the segment of an entry that goes by its place along the rod, to a
// thousandth of a millimetre whatever unit it was written in.
func entryAt(at units.Length) Segment {
	return Segment{Entry: "at " + millimetres(at), At: units.Length(math.Round(1e6*float64(at)) / 1e6), Placed: true}
}

// entryNamed is the segment of an entry that goes by its name.
func entryNamed(name string) Segment { return Segment{Entry: name} }

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
		to = append(to, Segment{Key: key})
	}
	return to
}

// In leads on to an entry of the list below.
func (p Path) In(list string, entry Segment) Path {
	entry.Key = list
	return append(slices.Clip(p), entry)
}

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

// Last is the key of the last segment; "" of the empty path.
func (p Path) Last() string {
	if len(p) == 0 {
		return ""
	}
	return p[len(p)-1].Key
}

// WallPath leads to the wall at a station of a section's tube.
func WallPath(s Section, at float64) Path { return s.stationPath(at).To("wall") }

// OutsidePath leads to the outside at a station of a section.
func OutsidePath(s Section, at float64) Path { return s.stationPath(at).To(s.kind().outside) }

func (s *Section) stationPath(at float64) Path {
	list := s.kind().path
	under := append(SectionPath(*s), list[:len(list)-1]...)
	return under.In(list.Last(), entryAt(units.Length(at)))
}

// ModulusPath leads to the modulus of a material.
func ModulusPath(material string) Path {
	return Path{}.In("materials", entryNamed(material)).To("modulus")
}

// PosOf is where the value stands to which a path leads, or the first of several
// under it; the zero Pos where there is none.
func (s *Spec) PosOf(path string) Pos {
	for f := range s.Fields() {
		if rest, under := strings.CutPrefix(f.Path.String(), path); under && (rest == "" || rest[0] == '.' || rest[0] == '[') {
			return f.Pos
		}
	}
	return Pos{}
}

// The paths of list entries, for fields and faults alike.

// SectionPath leads to a section.
func SectionPath(s Section) Path { return Path{}.In("sections", entryNamed(s.Name.Text)) }

// JointPath leads to a joint.
func JointPath(j Joint) Path { return Path{}.In("joints", jointSegment(&j)) }

func jointSegment(j *Joint) Segment { return entryNamed(j.Between[0].Text + "+" + j.Between[1].Text) }

// RingPath leads to a ring.
func RingPath(r Ring) Path { return Path{}.In("rings", entryAt(r.At.Value)) }

func gripPath(g Grip) Path { return Path{{Key: "handle"}}.In("grips", entryAt(g.From.Value)) }

func measuredPath(i int) Path {
	return Path{{Key: "blank"}}.In("measured", entryNamed(strconv.Itoa(i+1)))
}

func plyPath(under Path, i int) Path { return under.In("plies", entryNamed(strconv.Itoa(i+1))) }
