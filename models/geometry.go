package models

import (
	"slices"

	"rodlore/models/units"
)

// Span is a stretch of the rod as assembled, in metres from the tip; From is
// nearer the tip.
type Span struct{ From, To float64 }

// TotalLength is the length of the rod as assembled, in metres: its sections
// less their overlaps, plus the gaps left at spigots.
func (m *Model) TotalLength() float64 { return m.SectionSpans()[0].To }

// SectionSpans gives where each section lies, in the order of m.Sections.
// Sections that overlap have spans that overlap.
func (m *Model) SectionSpans() []Span {
	spans := make([]Span, len(m.Sections))
	from := 0.0
	for i := len(m.Sections) - 1; i >= 0; i-- {
		spans[i] = Span{from, from + float64(m.Sections[i].Length.Value)}
		if i > 0 && i <= len(m.Joints) { // as long as a spec is checked, one may be missing
			from = spans[i].To + m.Joints[i-1].opens()
		}
	}
	return spans
}

// opens is how far j sets its sections apart, in metres; where they go into each
// other, less than nothing.
func (j Joint) opens() float64 {
	if !j.Kind.HasPart() {
		return -float64(j.Length.Value)
	}
	return float64(j.Gap.Value)
}

// JointSpans gives where each joint lies, in the order of m.Joints: where both
// sections are where one goes into the other; the whole plug or sleeve, taken to
// stand half in or on either section, of the others.
func (m *Model) JointSpans() []Span {
	sections := m.SectionSpans()
	spans := make([]Span, len(m.Joints))
	for i, j := range m.Joints {
		upper, lower := sections[i+1], sections[i]
		if !j.Kind.HasPart() {
			spans[i] = Span{lower.From, upper.To}
			continue
		}
		middle, half := (upper.To+lower.From)/2, float64(j.Length.Value)/2
		spans[i] = Span{middle - half, middle + half}
	}
	return spans
}

// SectionIndex is the index in m.Sections of the section of that name; −1 where
// there is none.
func (m *Model) SectionIndex(name string) int {
	return slices.IndexFunc(m.Sections, func(s Section) bool { return s.Name.Text == name })
}

// SectionNames are the names of the sections, in the order of m.Sections.
func (m *Model) SectionNames() []string {
	names := make([]string, len(m.Sections))
	for i, s := range m.Sections {
		names[i] = s.Name.Text
	}
	return names
}

// SectionAt is the index in m.Sections of the section that shows at s metres
// from the tip: where one goes into the other the outer one, in the gap of a spigot
// the lower.
func (m *Model) SectionAt(s float64) int {
	spans := m.SectionSpans()
	for i := len(spans) - 1; i > 0; i-- {
		end := spans[i].To
		if m.Joints[i-1].Kind.GoesIn() {
			end = spans[i-1].From
		}
		if s <= end {
			return i
		}
	}
	return 0
}

// PieceOf is the index of the lowest section that section i is glued to for good: it
// stands for the piece that comes off the rod.
func (m *Model) PieceOf(i int) int {
	for i > 0 && m.Joints[i-1].Kind == Splice {
		i--
	}
	return i
}

// Pieces is how many pieces the rod is taken apart to.
func (m *Model) Pieces() int {
	pieces := len(m.Sections)
	for _, j := range m.Joints {
		if j.Kind == Splice {
			pieces--
		}
	}
	return pieces
}

// HandleFront is how far the handle reaches, in metres from the butt.
func (s *Spec) HandleFront() float64 {
	front := float64(s.gripFront())
	if seat := s.Parts[s.Handle.Seat.Part.Text]; seat != nil {
		front = max(front, float64(s.Handle.Seat.At.Value+seat.Length.Value/2))
	}
	return front
}

// HeldTo is how far the rod is held, in metres from the butt: as the model
// says, otherwise to the front of the handle, or as a bare blank is held.
func (s *Spec) HeldTo() float64 {
	if s.Bare {
		return float64(s.Held.Or(units.Length(s.Blank.HeldTo(s.TotalLength()))))
	}
	return float64(s.Held.Or(units.Length(s.HandleFront())))
}

// theEnd is what a load hangs from on a bare blank: a tip ring that is not there.
const theEnd = "bare end"

// Bared is the blank of a spec by itself, for a load to hang from its end.
func (s *Spec) Bared() *Spec {
	m := *s.Model
	m.Bare, m.Reel.Kind, m.Handle, m.Finish = true, NoReel, Handle{}, Finish{}
	m.Rings = []Ring{{Part: Word{Text: theEnd}}}
	return &Spec{Model: &m, Materials: s.Materials, Parts: map[string]*Part{
		theEnd: {Name: theEnd, Price: Given[units.Money]{Text: "0"}},
	}}
}

// ReelAt is where the middle of the reel's foot stands, in metres from the
// butt: as the reel says, otherwise the middle of the seat.
func (s *Spec) ReelAt() float64 {
	return float64(s.Reel.At.Or(s.Handle.Seat.At.Value))
}
