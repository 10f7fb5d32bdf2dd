package story

import (
	"slices"

	"rodlore/catalogue/pages/document"
	"rodlore/diffing"
)

// comparison is the page of chapter i beside the one before it.
func (t *tale) comparison(i int) (*document.Document, error) {
	old, now := t.chapters[i-1], t.chapters[i]
	pairs := []string{"model", now.Spec().Name.Text, "old", old.name, "new", now.name}
	d := &document.Document{
		Title: t.Say("compare.title", pairs...), Subtitle: t.Say("compare.subtitle", "maker", t.set.Maker.Text),
		Author: t.set.Maker.Text, Language: t.Language(), Date: now.When, Paper: t.Paper, Footer: t.Say("story.footer"),
		Blocks: []document.Block{t.neighbours(i)},
	}
	pictures, err := t.comparePictures(old, now)
	if err != nil {
		return nil, err
	}
	told, err := t.chapter(now)
	if err != nil {
		return nil, err
	}
	d.Blocks = append(d.Blocks, pictures, t.heading(2, "compare.changes"))
	d.Blocks = append(d.Blocks, told...)
	d.Blocks = append(d.Blocks, t.heading(2, "figures.heading"))
	d.Blocks = append(d.Blocks, t.comparedFigures(old, now)...)
	return d, nil
}

// comparePictures draws two releases below one another, and what a customer sees
// of it.
func (t *tale) comparePictures(old, now *chapter) (document.Block, error) {
	rods := t.labelled(old, now)
	stack, err := t.half.Stack(rods)
	if err != nil {
		return nil, err
	}
	seen, err := t.half.Sights(rods[0], rods[1], slices.DeleteFunc(slices.Clone(now.Step.Sights), onWholeRod))
	if err != nil || seen == nil {
		return t.figure(stack), err
	}
	return beside(t.figure(stack), t.figure(seen)), nil
}

// onWholeRod reports whether a sight is one of the whole rod, which stands beside
// it anyway.
func onWholeRod(s diffing.Sight) bool {
	switch s.Aspect {
	case diffing.RingCount, diffing.RodLength, diffing.SectionCount, diffing.JointKind, diffing.BlankColour, diffing.WhippingColour:
		return true
	}
	return false
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

// comparedFigures holds every figure that changed from one release to another,
// names those that are the same and, to the workshop, those that may be either.
func (t *tale) comparedFigures(old, now *chapter) []document.Block {
	table := document.Table{Caption: t.Say("compare.caption", "old", old.name, "new", now.name), Columns: []document.Column{
		{Head: t.Say("figures.figure")}, {Head: old.name, Right: true}, {Head: now.name, Right: true}, {Head: t.Say("compare.change"), Right: true},
	}}
	var same, open []string
	for _, s := range now.Shifts {
		switch {
		case !s.Both() || t.Reader == Customer && slices.Contains(ownFigures, s.Key):
		case t.Shows(s):
			change := t.ChangeWithTolerance(s.Key, s.Unit, s.Change, s.New.Value, s.Tolerance())
			if s.ByDesign() {
				change += ", " + t.Often(s)
			}
			table.Add(t.Name(s.Key), t.Value(s.Key, s.Unit, s.Old.Value), t.Value(s.Key, s.Unit, s.New.Value), change)
		case s.Within():
			same = append(same, t.Name(s.Key))
		default:
			open = append(open, t.Name(s.Key))
		}
	}
	var blocks []document.Block
	if len(table.Rows) > 0 {
		blocks = append(blocks, table)
	}
	if len(same) > 0 {
		blocks = append(blocks, t.Paragraph("compare.same", "figures", t.List(same)))
	}
	if len(open) > 0 && t.Reader == Workshop {
		blocks = append(blocks, t.Paragraph("compare.open", "figures", t.List(open)))
	}
	return blocks
}
