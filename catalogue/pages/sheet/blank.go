package sheet

import (
	"fmt"
	"slices"

	"rodlore/catalogue/pages/document"
	"rodlore/models"
)

// blank is what is known of every section, in columns.
func (s *sheet) blank(columns int) []document.Block {
	blocks := []document.Block{s.heading("sheet.blank.heading")}
	for pair := range slices.Chunk(s.spec.Sections, columns) {
		left := s.section(pair[0])
		if len(pair) > 1 {
			left = beside(0.5, left, s.section(pair[1]))
		}
		blocks = append(blocks, left...)
	}
	return blocks
}

func (s *sheet) section(of models.Section) []document.Block {
	name, length := of.Name.Text, s.Written(of.Length.Quantity())
	switch {
	case of.Rolled != nil:
		return s.rolled(of)
	case len(of.Stiffness) > 0:
		t := document.Table{Caption: s.Say("sheet.blank.section", "section", name, "length", length)}
		t.Columns = s.Columns("sheet.blank", ">at", ">outside", ">stiffness", ">mass")
		for _, st := range of.Stiffness {
			t.Add(s.Written(st.At.Quantity()), s.Written(st.Outside.Quantity()), st.EI.Text, st.Mass.Text)
		}
		return []document.Block{t}
	}
	t := document.Table{Caption: s.Say("sheet.blank.of", "section", name, "length", length, "material", of.Material.Text)}
	if len(of.Hexagon) > 0 {
		t.Columns = s.Columns("sheet.blank", ">at", ">flats", ">hollow")
		for _, st := range of.Hexagon {
			t.Add(s.Written(st.At.Quantity()), s.Written(st.Outside.Quantity()), s.Written(st.Hollow.Quantity()))
		}
		return []document.Block{t}
	}
	if len(of.Solid) > 0 {
		t.Columns = s.Columns("sheet.blank", ">at", ">solid")
		for _, st := range of.Solid {
			t.Add(s.Written(st.At.Quantity()), s.Written(st.Outside.Quantity()))
		}
		return []document.Block{t}
	}
	t.Columns = s.Columns("sheet.blank", ">at", ">outside", ">wall")
	for _, st := range of.Tube {
		t.Add(s.Written(st.At.Quantity()), s.Written(st.Outside.Quantity()), s.Written(st.Wall.Quantity()))
	}
	return []document.Block{t}
}

// rolled is the mandrel and the plies of a section.
func (s *sheet) rolled(of models.Section) []document.Block {
	mandrel := document.Table{Caption: s.Say("sheet.blank.rolled", "section", of.Name.Text, "length", s.Written(of.Length.Quantity()))}
	mandrel.Columns = s.Columns("sheet.blank", ">at", ">mandrel")
	for _, st := range of.Rolled.Mandrel {
		mandrel.Add(s.Written(st.At.Quantity()), s.Written(st.Mandrel.Quantity()))
	}
	plies := document.Table{Caption: s.Say("sheet.blank.plies of", "section", of.Name.Text)}
	plies.Columns = s.Columns("sheet.blank", "material", ">angle", "wraps", "stretch")
	for _, p := range of.Rolled.Plies {
		plies.Add(p.Material.Text, s.Value("", "rad", float64(p.Angle.Value)), fmt.Sprintf("%g – %g", p.TipWraps, p.ButtWraps), s.reach(of, p))
	}
	return []document.Block{mandrel, plies}
}

// reach says from where to where of its section a ply reaches.
func (s *sheet) reach(of models.Section, p models.Ply) string {
	if !p.From.Set() && !p.To.Set() {
		return s.Say("sheet.blank.all")
	}
	from, to := float64(p.From.Value), float64(p.To.Or(of.Length.Value))
	return s.Say("sheet.blank.reach", "from", s.length(from), "to", s.length(to))
}
