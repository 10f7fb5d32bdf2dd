package sheet

import (
	"fmt"

	"rodlore/catalogue/pages/document"
	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/models/units"
)

// rings is the table of rings, tip first.
func (s *sheet) rings() []document.Block {
	t := document.Table{Columns: s.Columns("sheet.rings",
		"ring", ">from tip", ">inches", ">size", "part", "on section", ">whipping", ">turns", "placed")}
	t.Columns[1].Large, t.Columns[2].Large, t.Columns[8].Blank = true, true, true
	for i, g := range s.spec.Rings {
		part, at := s.spec.Parts[g.Part.Text], float64(g.At.Value)
		whipping, turns := s.whippings(s.over(func(w evaluate.Whipping) bool { return w.Ring == i }))
		t.Add(s.ringName(i), millimetres(at), units.Sixteenths(at), part.Size.Text, part.Name, s.onSection(at), whipping, turns, "")
	}
	return []document.Block{s.heading("sheet.rings.heading"), t, s.notes()}
}

func (s *sheet) ringName(i int) string {
	if i == 0 {
		return s.Say("sheet.rings.tip")
	}
	return fmt.Sprint(i)
}

// onSection says where a place lies on the section that shows there.
func (s *sheet) onSection(at float64) string {
	i := s.spec.SectionAt(at)
	section := s.spec.Sections[i].Name.Text
	return s.Say("sheet.rings.place", "section", section, "distance", s.length(at-s.spec.SectionSpans()[i].From))
}

// whippings says how long whippings of one length are, and of how many turns.
func (s *sheet) whippings(list []evaluate.Whipping) (length, turns string) {
	if len(list) == 0 {
		return s.Say("sheet.rings.none"), ""
	}
	length = s.length(list[0].To - list[0].From)
	if len(list) > 1 {
		length = s.Say("sheet.rings.feet", "n", fmt.Sprint(len(list)), "length", length)
	}
	if n := s.outline.Winding(s.spec, list[0]).Turns; n > 0 {
		turns = fmt.Sprintf("%.0f", n)
	}
	return length, turns
}

// over are the whippings that are of something.
func (s *sheet) over(of func(evaluate.Whipping) bool) (list []evaluate.Whipping) {
	for _, w := range s.outline.Whippings {
		if of(w) {
			list = append(list, w)
		}
	}
	return list
}

// notes say how distances and turns are meant.
func (s *sheet) notes() document.Block {
	turns := s.Say("sheet.rings.no thread")
	if thread := s.part(s.spec.Finish.Thread); thread != nil {
		turns = s.Say("sheet.rings.thread", "thread", thread.Name, "thickness", s.Written(thread.Thickness.Quantity()))
	}
	if colour := s.spec.Finish.Trim.Text; colour != "" {
		turns += " " + s.Say("sheet.rings.colour", "colour", colour)
	}
	return document.Paragraph(document.Plain(s.Say("sheet.rings.how") + " " + turns))
}

// part is the bought part of that name; nil where none is named.
func (s *sheet) part(name models.Word) *models.Part { return s.spec.Parts[name.Text] }
