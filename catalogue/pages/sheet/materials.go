package sheet

import (
	"fmt"
	"math"

	"rodlore/catalogue/pages/document"
	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/models/units"
)

// materials is everything that goes into the rod, with how much of it and what
// it costs.
func (s *sheet) materials() []document.Block {
	t := document.Table{Columns: s.Columns("sheet.materials", "what", ">quantity", ">cost")}
	s.addBlank(&t)
	s.addRings(&t)
	s.addHandle(&t)
	s.addFinish(&t)
	total := s.Say("sheet.materials.unknown")
	if f, ok := s.figures.Get("parts-cost"); ok {
		total = s.Value(f.Key, f.Unit, f.Value)
	}
	t.Rows = append(t.Rows, []document.Text{document.Bold(s.Say("sheet.materials.total")), nil, document.Bold(total)})
	return []document.Block{s.heading("sheet.materials.heading"), t, s.paragraph("sheet.materials.note")}
}

func (s *sheet) addBlank(t *document.Table) {
	for _, of := range s.spec.Sections {
		t.Add(s.Say("sheet.materials.section", "section", of.Name.Text), s.Written(of.Length.Quantity()), "")
	}
	for _, j := range s.spec.Joints {
		if j.Kind.HasPart() {
			t.Add(s.Say("sheet.materials.plug", "material", j.Material.Text),
				s.Say("sheet.materials.turned", "length", s.Written(j.Length.Quantity()), "diameter", s.Written(j.Outside.Quantity())), "")
		}
	}
}

// addRings adds the rings by their parts, in the order in which they stand.
func (s *sheet) addRings(t *document.Table) {
	n := map[string]int{}
	for _, g := range s.spec.Rings {
		n[g.Part.Text]++
	}
	for i, g := range s.spec.Rings {
		name := "sheet.materials.ring"
		if i == 0 {
			name = "sheet.materials.tip ring"
		}
		s.addBought(t, name, s.part(g.Part), n[g.Part.Text])
		n[g.Part.Text] = 0 // told
	}
}

// addBought adds so many of one part.
func (s *sheet) addBought(t *document.Table, path string, part *models.Part, n int) {
	if part == nil || n == 0 {
		return
	}
	quantity, cost := fmt.Sprint(n), s.Say("sheet.materials.unknown")
	if part.Price.Set() {
		each := float64(part.Price.Value)
		quantity, cost = s.Say("sheet.materials.at", "n", quantity, "price", s.money(each)), s.money(float64(n)*each)
	}
	t.Add(s.Say(path, "part", part.Name), quantity, cost)
}

func (s *sheet) money(sum float64) string { return s.Value("parts-cost", "currency", sum) }

func (s *sheet) addHandle(t *document.Table) {
	s.addBought(t, "sheet.materials.seat", s.part(s.spec.Handle.Seat.Part), 1)
	for _, g := range s.spec.Handle.Grips {
		if part := s.part(g.Part); part != nil {
			s.addBought(t, "sheet.materials.bought grip", part, 1)
			continue
		}
		t.Add(s.Say("sheet.materials.grip", "material", g.Material.Text),
			s.Say("sheet.materials.turned", "length", s.length(float64(g.To.Value-g.From.Value)), "diameter", s.Written(g.Diameter.Quantity())), "")
	}
	s.addBought(t, "sheet.materials.cap", s.part(s.spec.Handle.Cap.Part), 1)
}

// addFinish adds thread and varnish.
func (s *sheet) addFinish(t *document.Table) {
	var sum evaluate.Winding
	for _, w := range s.outline.Whippings {
		one := s.outline.Winding(s.spec, w)
		sum.Thread += one.Thread
		sum.Varnish += one.Varnish
	}
	if part := s.part(s.spec.Finish.Thread); part != nil {
		t.Add(s.Say("sheet.materials.thread", "part", part.Name),
			s.Count("sheet.materials.metres", len(s.outline.Whippings), "length", s.thread(sum.Thread)), "")
	}
	if part := s.part(s.spec.Finish.Varnish); part != nil {
		mass := sum.Varnish * float64(part.Density.Value)
		t.Add(s.Say("sheet.materials.varnish", "part", part.Name),
			s.Say("sheet.materials.on rod", "mass", s.Value("", "kg", mass)), "")
	}
}

// thread is a length of thread in metres, rounded up as it is bought.
func (s *sheet) thread(m float64) string {
	if s.Units == "imperial" {
		return fmt.Sprintf("%.0f yd", math.Ceil(m/3/units.Size("ft")))
	}
	return fmt.Sprintf("%.0f m", math.Ceil(m))
}
