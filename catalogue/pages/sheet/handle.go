package sheet

import (
	"cmp"
	"slices"

	"rodlore/catalogue/pages/document"
	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/models/units"
)

func (s *sheet) handle() []document.Block {
	return []document.Block{
		s.heading("sheet.handle.heading"), s.handleParts(), s.paragraph("sheet.handle.held", "to", bothUnits(s.spec.HeldTo())),
	}
}

// stretch is a part of the handle, m from the butt.
type stretch struct {
	name     string
	from, to float64
	diameter string
}

// handleParts is what stands where on the handle, from the butt on.
func (s *sheet) handleParts() document.Table {
	var list []stretch
	h := s.spec.Handle
	if part := s.part(h.Cap.Part); part != nil {
		list = append(list, stretch{s.Say("sheet.handle.cap", "part", part.Name), 0, float64(part.Length.Value), s.Written(part.Diameter.Quantity())})
	}
	if part := s.part(h.Seat.Part); part != nil {
		at, half := float64(h.Seat.At.Value), float64(part.Length.Value)/2
		list = append(list,
			stretch{s.Say("sheet.handle.seat", "part", part.Name), at - half, at + half, s.Written(part.Diameter.Quantity())},
			stretch{s.Say("sheet.handle.seat middle"), at, at, ""})
	}
	for _, g := range h.Grips {
		list = append(list, s.grip(g))
	}
	slices.SortStableFunc(list, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
	t := document.Table{Columns: s.Columns("sheet.handle", "what", ">from", ">inches", ">to", ">inches", "diameter")}
	for _, p := range list {
		t.Add(p.name, millimetres(p.from), units.Sixteenths(p.from), millimetres(p.to), units.Sixteenths(p.to), p.diameter)
	}
	return t
}

func (s *sheet) grip(g models.Grip) stretch {
	p := stretch{from: float64(g.From.Value), to: float64(g.To.Value), diameter: s.Written(g.Diameter.Quantity())}
	material := g.Material.Text
	if part := s.part(g.Part); part != nil {
		material, p.diameter = part.Name, s.Written(part.Diameter.Quantity())
	}
	p.name = s.Say("sheet.handle.grip", "material", material)
	if g.Ends.Set() {
		p.diameter = s.Say("sheet.handle.taper", "back", p.diameter, "front", s.Written(g.Ends.Quantity()))
	}
	return p
}

// joints is the table of joints, the butt's first; none for a rod of one piece.
func (s *sheet) joints() []document.Block {
	if len(s.spec.Joints) == 0 {
		return nil
	}
	t := document.Table{Columns: s.Columns("sheet.joints", "sections", "kind", ">length", ">from", ">inches", ">to", ">inches", ">whipping", ">turns")}
	plugs := slices.ContainsFunc(s.spec.Joints, func(j models.Joint) bool { return j.Kind.HasPart() })
	if plugs {
		t.Columns = append(t.Columns, s.Columns("sheet.joints", "made of")...)
	}
	for i, span := range s.spec.JointSpans() {
		j := s.spec.Joints[i]
		whipping, turns := s.whippings(s.over(func(w evaluate.Whipping) bool { return w.Joint == i }))
		cells := []string{
			s.Say("sheet.joints.between", "lower", j.Between[0].Text, "upper", j.Between[1].Text),
			s.Say("sheet.joints."+string(j.Kind), "lower", j.Between[0].Text, "upper", j.Between[1].Text), s.Written(j.Length.Quantity()),
			millimetres(span.From), units.Sixteenths(span.From), millimetres(span.To), units.Sixteenths(span.To),
			whipping, turns,
		}
		if plugs {
			cells = append(cells, s.plug(j))
		}
		t.Add(cells...)
	}
	return []document.Block{s.heading("sheet.joints.heading"), t}
}

// plug says what plug or sleeve a joint has, if any.
func (s *sheet) plug(j models.Joint) string {
	if !j.Kind.HasPart() {
		return ""
	}
	return s.Say("sheet.joints.plug", "outside", s.Written(j.Outside.Quantity()), "material", j.Material.Text)
}
