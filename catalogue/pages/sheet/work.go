package sheet

import (
	"rodlore/catalogue/pages/document"
	"rodlore/models"
)

// steps are what to tick off as the rod is built, in two columns.
var steps = [2][]string{
	{"parts", "spine", "feet", "marks", "tip", "line"},
	{"taped", "whippings", "cured", "joints", "seat", "figures"},
}

// work is the list to tick off, and who built which rod when.
func (s *sheet) work() []document.Block {
	signed := document.Table{Columns: s.Columns("sheet.signed", "serial", "batch", "begun", "finished", "by")}
	for i := range signed.Columns {
		signed.Columns[i].Blank = true
	}
	signed.Add(s.Serial, "", "", "", "")
	blocks := []document.Block{s.heading("sheet.work.heading"), document.Beside{Left: s.checklist(steps[0]), Right: s.checklist(steps[1])}}
	if first := s.splices(); len(first.Items) > 0 {
		blocks = append(blocks, first)
	}
	return append(blocks, signed)
}

// splices are what to tick off before all else where something is glued in.
func (s *sheet) splices() (list document.Checklist) {
	for _, j := range s.spec.Joints {
		if j.Kind == models.Splice {
			list.Items = append(list.Items, document.Plain(s.Say("sheet.work.splice", "lower", j.Between[0].Text, "upper", j.Between[1].Text, "length", s.Written(j.Length.Quantity()))))
		}
	}
	return list
}

func (s *sheet) checklist(names []string) []document.Block {
	var list document.Checklist
	for _, name := range names {
		list.Items = append(list.Items, document.Plain(s.Say("sheet.work."+name)))
	}
	return []document.Block{list}
}
