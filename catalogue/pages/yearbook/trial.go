package yearbook

import (
	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
)

// trial tells what was made and is not on sale.
func (b *book) trial(m *catalogue.ModelYear) ([]document.Block, error) {
	u := m.UnderWay
	blocks := []document.Block{b.heading(3, "trial.heading")}
	for _, rev := range u.Saved {
		blocks = append(blocks, b.Reason(rev))
	}
	if n := u.Newest; n != nil && n.Again != "" {
		blocks = append(blocks, b.paragraph("trial.again", "day", n.Day(), "label", n.Again))
	}
	switch n := u.Newest; {
	case n != nil && n.Unworkable == nil:
		part, err := b.prototype(m, n)
		if err != nil {
			return nil, err
		}
		blocks = append(blocks, part...)
	case len(u.Saved) > 0:
		blocks = append(blocks, b.paragraph("trial.unread"))
	}
	if u.Draft == nil {
		return blocks, nil
	}
	draft, err := b.draft(u.Draft)
	return append(blocks, draft...), err
}

// prototype holds the newest one against the last release, or how the model
// stood before the year.
func (b *book) prototype(m *catalogue.ModelYear, n *catalogue.Step) ([]document.Block, error) {
	before, head := "", b.paragraph("trial.alone", "day", n.Day())
	if n.Against != nil {
		before, head = n.Against.Day(), b.paragraph("trial.from", "day", n.Against.Day())
		if m.UnderWay.Since != "" {
			before, head = m.UnderWay.Since, b.paragraph("trial.since", "label", m.UnderWay.Since)
		}
	}
	step, err := b.step(n, before, n.Day())
	return append([]document.Block{head}, step...), err
}

// draft holds what is not saved against what was saved last.
func (b *book) draft(d *catalogue.Step) ([]document.Block, error) {
	switch {
	case d.Fault() != nil || d.Unworkable != nil:
		return []document.Block{b.paragraph("trial.draft unread")}, nil
	case d.Against == nil:
		step, err := b.step(d, "", b.say("trial.now"))
		return append([]document.Block{b.paragraph("trial.new draft")}, step...), err
	}
	before := d.Against.Day()
	if label := d.Against.Label(); label != "" {
		before = label
	}
	step, err := b.step(d, before, b.say("trial.now"))
	return append([]document.Block{b.paragraph("trial.draft", "saved", before)}, step...), err
}
