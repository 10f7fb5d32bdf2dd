package story

import (
	"slices"

	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/pages/words"
	"rodlore/diffing"
)

// comparison is the page of chapter i beside the one before it.
func (t *tale) comparison(i int) (*document.Document, error) {
	old, new := t.chapters[i-1], t.chapters[i]
	pairs := []string{"model", new.Spec.Name.Text, "old", old.name, "new", new.name}
	d := &document.Document{
		Title: t.Say("compare.title", pairs...), Subtitle: t.Say("compare.subtitle", "maker", t.set.Maker.Text),
		Author: t.set.Maker.Text, Language: t.Language(), Date: new.When, Paper: t.Paper, Footer: t.Say("story.footer"),
		Blocks: []document.Block{t.neighbours(i)},
	}
	stack, err := t.pen.Stack(t.labelled(old, new))
	if err != nil {
		return nil, err
	}
	d.Blocks = append(d.Blocks, t.figure(stack), t.heading(2, "compare.changes"))
	d.Blocks = append(d.Blocks, t.chapter(new)...)
	d.Blocks = append(d.Blocks, t.heading(2, "figures.heading"), t.comparedFigures(old, new))
	return d, nil
}

// neighbours links to the pages around chapter i.
func (t *tale) neighbours(i int) document.Block {
	text := document.Text{{Text: t.Say("site.all rods"), Link: frontPage}, {Text: " · "},
		{Text: t.Say("story.title", "model", t.spec().Name.Text), Link: link(t.page)}}
	for _, other := range []int{i - 1, i + 1} {
		if other >= 1 && other < len(t.chapters) {
			from, to := t.chapters[other-1].name, t.chapters[other].name
			text = append(text, document.Span{Text: " · "},
				document.Span{Text: t.Say("compare.pair", "old", from, "new", to), Link: link(t.chapters[other].page)})
		}
	}
	return document.Paragraph(text)
}

// comparedFigures holds every figure of one release against that of another.
func (t *tale) comparedFigures(old, new *chapter) document.Block {
	table := document.Table{Caption: t.Say("compare.caption", "old", old.name, "new", new.name), Columns: []document.Column{
		{Head: t.Say("figures.figure")}, {Head: old.name, Right: true}, {Head: new.name, Right: true}, {Head: t.Say("compare.change")},
	}}
	for _, f := range new.Figures.List {
		if t.Reader == Customer && slices.Contains(ownFigures, f.Key) {
			continue
		}
		if s, ok := telling.Shift(new.Step, f.Key); ok {
			table.Add(t.Name(f.Key), t.Value(f.Key, f.Unit, s.Old.Value), t.Value(f.Key, f.Unit, f.Value), t.changeWords(s))
		}
	}
	return table
}

// changeWords says the change of a figure in a table.
func (t *tale) changeWords(s diffing.Shift) string {
	switch {
	case s.Change == 0:
		return t.Say("compare.same")
	case words.DirectionOf(s) == words.Same:
		return t.Say("compare.not real")
	}
	return t.ChangeWithTolerance(s.Key, s.Unit, s.Change, s.New.Value, s.Tolerance)
}
