package story

import (
	"strings"

	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
)

// releases tells release by release what changed, why, and what it did.
func (t *tale) releases() ([]document.Block, error) {
	blocks := []document.Block{t.heading(2, "releases.heading")}
	if t.whole != nil {
		pictures, err := t.overview()
		if err != nil {
			return nil, err
		}
		blocks = append(blocks, t.Paragraph("releases.intro"), pictures)
	}
	for _, text := range t.workshopOnly(t.unread) {
		blocks = append(blocks, document.Paragraph(telling.Plain(text)))
	}
	if t.terse() {
		return append(blocks, t.brief()), nil
	}
	for _, c := range t.chapters {
		blocks = append(blocks, document.Heading{Level: 3, Text: c.name, ID: "release-" + c.ShortID()})
		told, err := t.chapter(c)
		if err != nil {
			return nil, err
		}
		blocks = append(blocks, told...)
		if c.page != "" {
			beside := t.Say("releases.beside", "old", c.Against.Label(), "new", c.name)
			blocks = append(blocks, document.Paragraph{{Text: beside, Link: link(c.page)}})
		}
	}
	return blocks, nil
}

// terse reports whether a story has so many releases that only a few
// lines on each find room on a few sheets of paper.
func (t *tale) terse() bool {
	const many = 6
	return t.Print && t.Reader == Customer && len(t.chapters) > many
}

// brief tells every release in a few lines.
func (t *tale) brief() document.Terms {
	var terms document.Terms
	for _, c := range t.chapters {
		var text document.Text
		if c.Tell != "" {
			text = append(text, document.Span{Text: telling.Reflow(c.Tell) + " ", Italic: true})
		}
		said := []string{t.begin(c)}
		if c.Against != nil {
			said = append(t.Seen(c.Step), t.Done(c.Step, summary)...)
		}
		terms = append(terms, document.Term{Word: c.name, Text: append(text, telling.Plain(sentences(said))...)})
	}
	return terms
}

// overview draws all releases: where their rings stood, and the rods below one
// another.
func (t *tale) overview() (document.Block, error) {
	rods := t.labelled(t.chapters...)
	stack, err := t.half.Stack(rods)
	if err != nil {
		return nil, err
	}
	trails := t.figure(t.half.RingTrails(rods), t.Say("releases.trails"))
	return beside(trails, t.figure(stack, t.Say("releases.stack"))), nil
}

// labelled are the rods of chapters for a picture.
func (t *tale) labelled(chapters ...*chapter) []pages.Labelled {
	var rods []pages.Labelled
	for _, c := range chapters {
		rods = append(rods, pages.Labelled{Label: c.name, Spec: c.Spec()})
	}
	return rods
}

// workshopOnly are texts that customers do not get.
func (t *tale) workshopOnly(texts []string) []string {
	if t.Reader != Workshop {
		return nil
	}
	return texts
}

func (t *tale) chapter(c *chapter) ([]document.Block, error) {
	var blocks []document.Block
	if c.Tell != "" {
		blocks = append(blocks, document.Quote(telling.Plain(telling.Reflow(c.Tell))))
	}
	if c.Against == nil {
		blocks = append(blocks, document.Paragraph(telling.Plain(t.begin(c))))
	} else {
		blocks = []document.Block{document.Beside{Left: append(blocks, t.changed(c)...), Right: t.effects(c)}}
	}
	if t.Reader == Customer {
		return blocks, nil
	}
	details, err := t.workshop(c)
	return append(blocks, details), err
}

// begin says what the first release was.
func (t *tale) begin(c *chapter) string {
	said := []string{t.Say("releases.begin")}
	for _, key := range summary {
		if f, ok := c.Figures.Get(key); ok {
			said = append(said, t.Meaning(key, t.Supported(key, f.Unit, f.Value, f.Tolerance)))
		}
	}
	return sentences(said)
}

// changed says what of a release is seen to be otherwise, and what else is.
func (t *tale) changed(c *chapter) []document.Block {
	blocks := t.Listed("releases.seen", "releases.nothing seen", t.Seen(c.Step))
	if made := t.Made(c.Step); len(made) > 0 {
		blocks = append(blocks, t.Listed("releases.made", "", made)...)
	}
	return blocks
}

// effects says what a release does, and what stayed.
func (t *tale) effects(c *chapter) []document.Block {
	blocks := t.Listed("releases.done", "releases.nothing done", t.Done(c.Step, telling.Effects))
	if same := t.Same(c.Step); len(same) > 0 {
		blocks = append(blocks, document.Paragraph(telling.Plain(sentences(append([]string{t.Say("releases.same")}, same...)))))
	}
	return blocks
}

// sentences puts sentences behind each other.
func sentences(said []string) string { return strings.Join(said, " ") }
