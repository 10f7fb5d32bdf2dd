package sheet

import (
	"fmt"
	"slices"

	"rodlore/catalogue/pages/document"
	"rodlore/models"
	"rodlore/models/units"
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

// section is what is known of a section: its stations, and the plies of one that is
// rolled.
func (s *sheet) section(of models.Section) []document.Block {
	switch {
	case of.Rolled != nil:
		return []document.Block{s.stations("rolled", of, of.Rolled.Mandrel, ">mandrel"), s.plies(of)}
	case len(of.Stiffness) > 0:
		return []document.Block{s.stations("section", of, of.Stiffness, ">outside", ">stiffness", ">mass")}
	case len(of.Hexagon) > 0:
		return []document.Block{s.stations("of", of, of.Hexagon, ">flats", ">hollow")}
	case len(of.Solid) > 0:
		return []document.Block{s.stations("of", of, of.Solid, ">solid")}
	}
	return []document.Block{s.stations("of", of, of.Tube, ">outside", ">wall")}
}

// stationColumns are what stands in a table of stations, by the heads of its columns.
var stationColumns = map[string]func(models.Station) units.Quantity{
	">outside":   func(st models.Station) units.Quantity { return st.Outside.Quantity() },
	">flats":     func(st models.Station) units.Quantity { return st.Outside.Quantity() },
	">solid":     func(st models.Station) units.Quantity { return st.Outside.Quantity() },
	">wall":      func(st models.Station) units.Quantity { return st.Wall.Quantity() },
	">hollow":    func(st models.Station) units.Quantity { return st.Hollow.Quantity() },
	">mandrel":   func(st models.Station) units.Quantity { return st.Mandrel.Quantity() },
	">stiffness": func(st models.Station) units.Quantity { return st.EI.Quantity() },
	">mass":      func(st models.Station) units.Quantity { return st.Mass.Quantity() },
}

// stations is a table of stations, with columns of those heads.
func (s *sheet) stations(caption string, of models.Section, list []models.Station, heads ...string) document.Table {
	t := document.Table{
		Caption: s.Say("sheet.blank."+caption, "section", of.Name.Text, "length", s.Written(of.Length.Quantity()), "material", of.Material.Text),
		Columns: s.Columns("sheet.blank", append([]string{">at"}, heads...)...),
	}
	for _, st := range list {
		row := []string{s.Written(st.At.Quantity())}
		for _, head := range heads {
			row = append(row, s.Written(stationColumns[head](st)))
		}
		t.Add(row...)
	}
	return t
}

func (s *sheet) plies(of models.Section) document.Table {
	t := document.Table{Caption: s.Say("sheet.blank.plies of", "section", of.Name.Text)}
	t.Columns = s.Columns("sheet.blank", "material", ">angle", "wraps", "stretch")
	for _, p := range of.Rolled.Plies {
		t.Add(p.Material.Text, s.Value("", "rad", float64(p.Angle.Value)), fmt.Sprintf("%g – %g", p.TipWraps, p.ButtWraps), s.reach(of, p))
	}
	return t
}

// reach says from where to where of its section a ply reaches.
func (s *sheet) reach(of models.Section, p models.Ply) string {
	if !p.From.Set() && !p.To.Set() {
		return s.Say("sheet.blank.all")
	}
	from, to := float64(p.From.Value), float64(p.To.Or(of.Length.Value))
	return s.Say("sheet.blank.reach", "from", s.length(from), "to", s.length(to))
}
