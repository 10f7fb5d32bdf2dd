package models

import (
	"fmt"
	"math"
	"strings"

	"rodlore/models/units"
)

// lengthMiss is how far sections and joints may add up to other than the
// stated length.
const lengthMiss = 5e-3 // m

// checkModel checks what concerns several parts of a model. What was not given
// or had a fault of its own is left out.
func checkModel(v value, m *Model) {
	named := checkSectionNames(v, m)
	if named && checkJoints(v, m) {
		checkLength(v, m)
		checkBores(v, m)
	}
	if m.Bare {
		m.Reel.Kind = NoReel
	}
	checkRings(v, m)
	checkHandle(v, m)
	checkBlank(v, m)
	checkFitted(v, m)
}

// checkSectionNames reports whether every section has a name of its own.
func checkSectionNames(v value, m *Model) bool {
	ok := len(m.Sections) > 0
	first := make(map[string]Pos, len(m.Sections))
	for _, s := range m.Sections {
		name := s.Name.Text
		if pos, taken := first[name]; taken && name != "" {
			v.at(s.Name.Pos, SectionPath(s).To("name").String(), "%q is the name of two sections; the first is in line %d", name, pos.Line)
			ok = false
		}
		first[name] = s.Name.Pos
		ok = ok && name != ""
	}
	return ok
}

// checkJoints checks that every two neighbours are joined once, and puts the
// joints into the order of the sections.
func checkJoints(v value, m *Model) bool {
	ok := true
	ordered := make([]*Joint, max(0, len(m.Sections)-1))
	for i := range m.Joints {
		j := &m.Joints[i]
		if j.Between[0].Text == "" || j.Between[1].Text == "" {
			ok = false
			continue
		}
		at, msg := m.placeOf(j)
		if msg == "" && ordered[at] != nil {
			msg = fmt.Sprintf("%s and %s are joined twice; the first joint is in line %d", j.Between[0], j.Between[1], ordered[at].Pos.Line)
		}
		if msg != "" {
			v.at(j.Between[0].Pos, JointPath(*j).To("between").String(), "%s", msg)
			ok = false
			continue
		}
		ordered[at] = j
	}
	if !ok {
		return false
	}
	for i, j := range ordered {
		if j == nil {
			v.at(v.pos(), "joints", "no joint between %q and %q; expected one such as %s",
				m.Sections[i].Name, m.Sections[i+1].Name, jointTable.example)
			ok = false
		}
	}
	if ok {
		joints := make([]Joint, len(ordered))
		for i, j := range ordered {
			joints[i] = *j
		}
		m.Joints = joints
	}
	return ok
}

// placeOf is the index of the section on the butt side of j, or what is wrong
// with the sections it names.
func (m *Model) placeOf(j *Joint) (at int, msg string) {
	var index [2]int
	for i, name := range j.Between {
		index[i] = m.SectionIndex(name.Text)
		if index[i] < 0 {
			return 0, fmt.Sprintf("no section is named %q; expected %s", name, strings.Join(m.SectionNames(), ", "))
		}
	}
	if index[1] == index[0]+1 {
		return index[0], ""
	}
	return 0, fmt.Sprintf("%s and %s are no neighbours, butt side first; the sections are %s", j.Between[0], j.Between[1], strings.Join(m.SectionNames(), ", "))
}

// checkLength checks sections and joints against the length of the rod.
func checkLength(v value, m *Model) {
	lengths := []Given[units.Length]{m.Length}
	for _, s := range m.Sections {
		lengths = append(lengths, s.Length)
	}
	for _, j := range m.Joints {
		lengths = append(lengths, j.Length)
		if j.Kind == "" {
			return
		}
	}
	if !allSet(lengths) {
		return
	}
	for i, j := range m.Joints {
		if shorter := min(m.Sections[i].Length.Value, m.Sections[i+1].Length.Value); j.Length.Value >= shorter {
			v.at(j.Length.Pos, JointPath(j).To("length").String(), "%q is as long as a section it joins, %s", j.Length.Text, millimetres(shorter))
			return
		}
	}
	if !m.LengthFits() {
		v.at(m.Length.Pos, "length", "%q is %s, but the sections as joined come to %s; they may differ by 5 mm",
			m.Length.Text, millimetres(m.Length.Value), millimetres(units.Length(m.TotalLength())))
	}
}

// checkBores checks that what goes into a section is no thicker than its bore, where
// that is known.
func checkBores(v value, m *Model) {
	for i, j := range m.Joints {
		lower, upper := &m.Sections[i], &m.Sections[i+1]
		if !j.Kind.GoesIn() || !allSet([]Given[units.Length]{j.Length, lower.Length, upper.Length}) {
			continue
		}
		const places = 9 // enough for whatever a bore or a rod that goes into it is ground to
		for k := range places {
			deep := j.Length.Value * units.Length(k) / (places - 1)
			bore, hollow := lower.bore(deep)
			outside, ok := upper.outside(upper.Length.Value - j.Length.Value + deep)
			if hollow && ok && outside > bore+jointMiss {
				v.at(j.Pos, JointPath(j).String(), "%s is %s thick and the bore of %s %s, %s from its end; it does not go in",
					j.Between[1], millimetres(units.Length(outside)), j.Between[0], millimetres(units.Length(max(0, bore))), millimetres(deep))
				break
			}
		}
	}
}

// LengthFits reports whether the sections as joined come to the stated length,
// to within 5 mm.
func (m *Model) LengthFits() bool {
	return math.Abs(m.TotalLength()-float64(m.Length.Value)) <= lengthMiss
}

// checkRings checks that the rings ascend from the tip ring and stand on the
// blank.
func checkRings(v value, m *Model) {
	for i, r := range m.Rings {
		path := RingPath(r).To("at").String()
		switch {
		case !r.At.Set():
		case i == 0 && r.At.Value > distinct:
			v.at(r.At.Pos, path, "the first ring is at %q; expected the tip ring at 0 mm", r.At.Text)
		case i > 0 && m.Rings[i-1].At.Set():
			v.checkOrder(path, m.Rings[i-1].At, r.At)
		}
		if m.Length.Set() && r.At.Value > m.Length.Value {
			v.at(r.At.Pos, path, "%q is beyond the butt; the rod is %q long", r.At.Text, m.Length.Text)
			continue
		}
		if front := m.gripFront(); r.At.Set() && front < m.Length.Value && m.Length.Value-r.At.Value < front-distinct {
			v.at(r.At.Pos, path, "%q is on the handle, which begins %s from the tip", r.At.Text, millimetres(m.Length.Value-front))
		}
	}
}

// gripFront is how far the grips reach from the butt.
func (m *Model) gripFront() units.Length {
	var front units.Length
	for _, g := range m.Handle.Grips {
		front = max(front, g.To.Value)
	}
	return front
}

// checkHandle checks that there is something to hold, that the grips stand one
// before the other, and that all of it is on the rod.
func checkHandle(v value, m *Model) {
	checkOnRod(v, m, "held.to", m.Held)
	if m.Handle.Pos == (Pos{}) {
		return
	}
	if m.Handle.Seat.Pos == (Pos{}) && !m.Reel.At.Set() && m.Reel.Kind != NoReel {
		v.at(m.Handle.Pos, "handle.seat", "is missing; expected one, or where the reel sits as reel: {at: 560 mm from butt}")
	}
	if m.Handle.Seat.Pos == (Pos{}) && len(m.Handle.Grips) == 0 && !m.Held.Set() {
		v.at(m.Handle.Pos, "handle", "has neither grips nor a seat; expected either, or held: {to: 620 mm}")
	}
	for i, g := range m.Handle.Grips {
		if i > 0 && g.From.Set() && g.From.Value < m.Handle.Grips[i-1].To.Value-distinct {
			v.at(g.From.Pos, gripPath(g).To("from").String(), "%q is inside the grip before it, which reaches to %q", g.From.Text, m.Handle.Grips[i-1].To.Text)
		}
		checkOnRod(v, m, gripPath(g).To("to").String(), g.To)
	}
	checkNoReel(v, m)
	checkLineClass(v, m)
	checkOnRod(v, m, "handle.seat.at", m.Handle.Seat.At)
	checkOnRod(v, m, "reel.at", m.Reel.At)
}

// checkNoReel checks that a rod without a reel has nothing that wants one.
func checkNoReel(v value, m *Model) {
	if m.Reel.Kind != NoReel {
		return
	}
	if len(m.Rings) > 1 && m.Rings[1].At.Set() {
		v.at(m.Rings[1].At.Pos, "rings", "lead a line to no reel; give the kind of reel, or leave the tip ring alone, to which the line is tied")
	}
	reelTable.walk(&walk{yield: func(f Field) bool {
		if f.Path.Last() != "kind" {
			v.at(f.Pos, "reel."+f.Path.Last(), "is given of no reel; leave it out, or give the kind of reel")
		}
		return true
	}}, nil, &m.Reel)
}

// checkOnRod checks that a distance from the butt ends before the tip.
func checkOnRod(v value, m *Model, path string, g Given[units.Length]) {
	if g.Set() && m.Length.Set() && g.Value >= m.Length.Value {
		v.at(g.Pos, path, "%q is beyond the tip; the rod is %q long", g.Text, m.Length.Text)
	}
}
