package yearbook

import (
	"slices"
	"strings"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/diffing"
	"rodlore/evaluate/figures"
)

// model is the part of one model.
func (b *book) model(m *catalogue.ModelYear) ([]document.Block, error) {
	blocks := []document.Block{document.Heading{Level: 2, Text: m.Name()}}
	if said := b.fate(m); len(said) > 0 {
		blocks = append(blocks, document.Paragraph(telling.Plain(strings.Join(said, " "))))
	}
	for _, issue := range m.Releases {
		part, err := b.release(issue)
		if err != nil {
			return nil, err
		}
		blocks = append(blocks, part...)
	}
	for _, beside := range m.Besides {
		blocks = append(blocks, b.paragraph("model.beside", "day", beside.By.Day(), "why", telling.Reflow(beside.Why), "changes", b.Summary(beside.Changes, 0)))
	}
	if m.UnderWay != nil {
		part, err := b.trial(m)
		if err != nil {
			return nil, err
		}
		blocks = append(blocks, part...)
	}
	blocks = append(blocks, b.rods(m)...)
	blocks = append(blocks, b.repairs(m)...)
	return append(blocks, b.heard(m)...), nil
}

// fate says what happened to the model as a whole.
func (b *book) fate(m *catalogue.ModelYear) []string {
	var said []string
	if m.Began {
		said = append(said, b.say("model.began", "day", m.Saved[0].Day()))
	}
	for _, rev := range m.Renamed() {
		said = append(said, b.say("model.renamed", "day", rev.Day(), "old", rev.Before.FileName(), "new", rev.FileName()))
	}
	switch {
	case len(m.Releases) > 0:
	case m.Label != "":
		said = append(said, b.say("model.kept", "label", m.Label))
	case m.Stood != nil:
		said = append(said, b.say("model.never"))
	}
	if m.Gone != nil {
		said = append(said, b.say("model.gone", "day", m.Gone.Day(), "why", telling.Reflow(m.Gone.Why())))
	}
	return said
}

// release tells of one release.
func (b *book) release(issue *catalogue.Issue) ([]document.Block, error) {
	blocks := []document.Block{b.heading(3, "release.heading", "label", b.Label(issue.Revision, issue.Label), "day", issue.When.Format(time.DateOnly))}
	if issue.Tell != "" && issue.Again == "" {
		blocks = append(blocks, document.Quote(telling.Plain(telling.Reflow(issue.Tell))))
	}
	if issue.Again != "" {
		blocks = append(blocks, b.paragraph("release.again", "label", issue.Again))
	}
	if len(issue.Made) > 0 {
		blocks = append(blocks, document.Paragraph(document.Bold(b.say("release.why"))))
	}
	for _, rev := range issue.Made {
		blocks = append(blocks, b.Reason(rev))
	}
	if issue.Fault() != nil || issue.Unworkable != nil {
		return append(blocks, b.paragraph("release.unread")), nil
	}
	step, err := b.step(issue.Step, issue.Since, issue.Label)
	return append(blocks, step...), err
}

// step tells what was changed by a step, what it does and what is seen of it. One
// that is from nothing says what the rod measures.
func (b *book) step(step *catalogue.Step, before, now string) ([]document.Block, error) {
	pictures, err := b.pictures(step, before, now)
	if err != nil {
		return nil, err
	}
	if step.Against == nil || step.Against.Fault() != nil {
		measures := []document.Block{document.Paragraph(document.Bold(b.say("release.figures"))), telling.Bullets(b.measures(step))}
		return b.beside(pictures, measures), nil
	}
	var blocks []document.Block
	if edits := b.Edits(step); len(edits.Rows) > 0 {
		blocks = append(blocks, edits)
	}
	if len(pictures) > 1 {
		blocks = append(blocks, b.beside(pictures[:1], pictures[1:])...)
		blocks = append(blocks, b.effects(step, before)...)
	} else {
		blocks = append(blocks, b.beside(pictures, b.effects(step, before))...)
	}
	return append(blocks, b.sights(step, before)...), nil
}

// beside puts blocks beside each other on a screen that has room for them. On
// paper each has the whole width.
func (b *book) beside(left, right []document.Block) []document.Block {
	if b.Print {
		return append(left, right...)
	}
	return []document.Block{document.Beside{Left: left, Right: right}}
}

// effects says what a step did to the rod, as far as it is real.
func (b *book) effects(step *catalogue.Step, before string) []document.Block {
	done := b.Done(step, append(telling.Effects[:len(telling.Effects):len(telling.Effects)], "parts-cost", "bench-time"))
	if len(done) == 0 {
		done = []string{b.say("release.nothing")}
	}
	blocks := []document.Block{document.Paragraph(document.Bold(b.say("release.done", "label", before))), telling.Bullets(done)}
	return append(blocks, b.Stayed(step)...)
}

// sights is what a customer sees of a step, against the limits.
func (b *book) sights(step *catalogue.Step, before string) []document.Block {
	table := b.Sights(step)
	if len(table.Rows) == 0 {
		return []document.Block{b.paragraph("release.unseen", "label", before)}
	}
	return []document.Block{table}
}

// measures are the figures of a rod that nothing is held against.
func (b *book) measures(step *catalogue.Step) []string {
	var said []string
	for _, key := range figures.Keys(figures.Trade) {
		if f, ok := step.Figures.Get(key); ok {
			said = append(said, b.Meaning(key, b.WithTolerance(key, f.Unit, f.Value, f.Tolerance)))
		}
	}
	return said
}

// pictures draw what a step is about: where rings were moved, the rods on both
// sides of it and where their rings stand; else the rod to scale.
func (b *book) pictures(step *catalogue.Step, before, now string) ([]document.Block, error) {
	if !ringsMoved(step) {
		rod, err := b.pen.Rod(step.Spec())
		if err != nil {
			return nil, err
		}
		return []document.Block{document.Figure{Picture: rod}}, nil
	}
	pair := []pages.Labelled{{Label: before, Spec: step.Against.Spec()}, {Label: now, Spec: step.Spec()}}
	rods, err := b.pen.Stack(pair)
	if err != nil {
		return nil, err
	}
	return []document.Block{document.Figure{Picture: rods}, document.Figure{Picture: b.pen.RingTrails(pair)}}, nil
}

func ringsMoved(step *catalogue.Step) bool {
	return slices.ContainsFunc(step.Changes, func(c diffing.Change) bool { return c.Group == diffing.RingPattern })
}
