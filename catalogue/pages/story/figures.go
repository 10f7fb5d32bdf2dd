package story

import (
	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/evaluate/figures"
)

// overReleases are the figures that are shown for every release.
var overReleases = figures.Keys(figures.Main)

// figures shows the figures over the releases, and all of the rod as it is with
// what they mean.
func (t *tale) figures() ([]document.Block, error) {
	table := document.Table{
		Caption: t.Say("figures.all", "release", t.last().name),
		Columns: []document.Column{{Head: t.Say("figures.figure")}, {Head: t.Say("figures.meaning")}},
	}
	for _, f := range t.last().Figures.List {
		if t.Reader == Workshop || figures.Of(f.Key).In&figures.Own == 0 {
			table.Add(t.Name(f.Key), t.Meaning(f.Key, t.WithTolerance(f.Key, f.Unit, f.Value, f.Tolerance)))
		}
	}
	var folded []document.Block
	if t.whole != nil {
		folded = append(folded, t.figure(t.half.Timeline(pages.Main, t.dated())), t.figureTable())
	}
	blocks := t.fold(t.Say("figures.fold"), append(folded, table, t.Paragraph("releases.intro"), t.Paragraph("figures.tolerance"), t.convention())...)
	return append(blocks, t.terms()...), nil
}

func (t *tale) figureTable() document.Block {
	table := document.Table{Caption: t.Say("figures.over releases"), Columns: []document.Column{{Head: t.Say("figures.release")}}}
	for _, key := range overReleases {
		table.Columns = append(table.Columns, document.Column{Head: t.Name(key), Right: true})
	}
	for _, c := range t.chapters {
		row := []string{c.name}
		for _, key := range overReleases {
			row = append(row, c.value(t.Teller, key))
		}
		table.Add(row...)
	}
	return table
}

// value writes a figure of a chapter; "" where the rod has none.
func (c *chapter) value(t telling.Teller, key string) string {
	f, ok := c.Figures.Get(key)
	if !ok {
		return ""
	}
	return t.Value(key, f.Unit, f.Value)
}

// convention says how the test curve is measured, for no two are alike.
func (t *tale) convention() document.Block {
	how := t.set.TestCurve
	line := how.Line
	if len(t.spec().Rings) < 2 {
		line = "from tip ring" // whatever the range says
	}
	return t.Paragraph("figures.convention", "line", t.Say("lines."+line),
		"turn", t.Value("", "rad", float64(how.Turn.Value)), "pull", t.Value("", "rad", float64(how.Pull.Value)),
		"bench load", t.Value("", "N", float64(t.set.BenchLoad.Value)))
}
