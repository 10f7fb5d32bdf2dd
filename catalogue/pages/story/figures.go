package story

import (
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
)

// overReleases are the figures that are shown for every release.
var overReleases = figures.Keys(figures.Main)

// figures shows the figures over the releases, and all of the rod as it is with
// what they mean.
func (t *tale) figures() ([]document.Block, error) {
	table := document.Table{Caption: t.Say("figures.all", "release", t.last().name), Columns: t.Columns("figures", "figure", "meaning")}
	for _, f := range t.last().Figures.List {
		if t.Reader == Workshop || figures.Of(f.Key).In&figures.Own == 0 {
			table.Add(t.Name(f.Key), t.Meaning(f.Key, t.WithTolerance(f.Key, f.Unit, f.Value, f.Tolerance)))
		}
	}
	var folded []document.Block
	if t.whole != nil {
		folded = append(folded, t.figure(t.half.Timeline(figures.Keys(figures.Trade), t.dated())), t.figureTable())
	}
	blocks := t.fold(t.Say("figures.fold"), append(folded, table, t.Paragraph("releases.intro"), t.Paragraph("figures.tolerance"), t.convention())...)
	return append(blocks, t.terms()...), nil
}

func (t *tale) figureTable() document.Block {
	table := document.Table{Caption: t.Say("figures.over releases"), Columns: append(t.Columns("figures", "release"), t.OfFigures(overReleases)...)}
	for i, values := range t.Values(figuresOf(t.chapters), overReleases) {
		table.Add(append([]string{t.chapters[i].name}, values...)...)
	}
	return table
}

// figuresOf are the figures of some chapters.
func figuresOf(chapters []*chapter) []*evaluate.Figures {
	return say.Each(chapters, func(c *chapter) *evaluate.Figures { return c.Figures })
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
