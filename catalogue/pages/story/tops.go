package story

import (
	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/evaluate"
)

// tops tells of the other tops that go on the rod as it is now: what each is for, and
// its figures beside those of the main one.
func (t *tale) tops() ([]document.Block, error) {
	all := t.last().Tops()
	if len(all) == 0 {
		return nil, nil
	}
	beside := []*evaluate.Figures{t.last().Figures}
	rods := []pages.Labelled{{Label: t.Say("tops.main"), Spec: t.spec()}}
	columns := []document.Column{{Head: t.Say("figures.figure")}, {Head: t.Say("tops.main"), Right: true}}
	var about document.Terms
	for _, top := range all {
		figs, err := t.source.FiguresWithTolerances(t.ctx, top)
		if err != nil {
			return nil, err
		}
		beside = append(beside, figs)
		rods = append(rods, pages.Labelled{Label: top.Top, Spec: top.Spec()})
		columns = append(columns, document.Column{Head: top.Top, Right: true})
		about = append(about, document.Term{Word: top.Top, Text: telling.Plain(t.about(top.Spec()))})
	}
	table := document.Table{Caption: t.Say("tops.table"), Columns: columns}
	for _, key := range overReleases {
		row, alike := []string{t.Name(key)}, t.InOneUnit(key, beside)
		for _, figs := range beside {
			cell := ""
			if f, ok := figs.Get(key); ok {
				cell = alike.WithTolerance(f.Key, f.Unit, f.Value, f.Tolerance)
			}
			row = append(row, cell)
		}
		table.Add(row...)
	}
	rack, err := t.pen.Rack(rods)
	if err != nil {
		return nil, err
	}
	return []document.Block{t.heading(2, "tops.heading"), t.Paragraph("tops.intro"), about, t.figure(rack), table}, nil
}
