package story

import (
	"slices"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
)

// releases tells release by release what the maker says, what is seen, what was done
// and what that did, in a sentence each; all else is folded.
func (t *tale) releases() ([]document.Block, error) {
	blocks := []document.Block{t.heading(2, "releases.heading")}
	if t.whole != nil {
		blocks = append(blocks, t.figure(t.half.RingTrails(t.labelled(t.chapters...)), t.Say("trails.look")))
	}
	for _, text := range t.unread {
		if t.Reader == Workshop {
			blocks = append(blocks, document.Paragraph(telling.Plain(text)))
		}
	}
	early := t.early()
	blocks = append(blocks, t.short(t.chapters[:early])...)
	for _, c := range t.chapters[early:] {
		blocks = append(blocks, document.Heading{Level: 3, Text: c.name, ID: "release-" + c.ShortID()})
		told, err := t.chapter(c)
		if err != nil {
			return nil, err
		}
		blocks = append(blocks, told...)
	}
	return blocks, nil
}

// early is how many chapters are so long ago that a customer reads but a few lines of
// each, so that a page stays light and sheets stay few.
func (t *tale) early() int {
	const most = 6
	if t.Reader == Workshop {
		return 0
	}
	return max(0, len(t.chapters)-most)
}

// short tells chapters in a few lines each.
func (t *tale) short(chapters []*chapter) []document.Block {
	var terms document.Terms
	for _, c := range chapters {
		said := t.begin(c)
		if c.Against != nil {
			said = t.brief(c.Step)
		}
		text := telling.Plain(said)
		if c.Tell != "" {
			text = append(document.Text{{Text: telling.Reflow(c.Tell) + " ", Italic: true}}, text...)
		}
		terms = append(terms, document.Term{Word: c.name, Text: text})
	}
	if len(terms) == 0 {
		return nil
	}
	return []document.Block{terms}
}

// labelled are the rods of chapters for a picture.
func (t *tale) labelled(chapters ...*chapter) []pages.Labelled {
	return say.Each(chapters, func(c *chapter) pages.Labelled { return pages.Labelled{Label: c.name, Spec: c.Spec()} })
}

// chapter tells of one release.
func (t *tale) chapter(c *chapter) ([]document.Block, error) {
	var blocks []document.Block
	if c.Tell != "" {
		blocks = append(blocks, document.Quote(telling.Plain(telling.Reflow(c.Tell))))
	}
	if c.Against == nil {
		blocks = append(blocks, document.Paragraph(telling.Plain(t.begin(c))))
	} else {
		pic, err := t.half.Step(pages.Labelled{Label: c.Against.Label(), Spec: c.Against.Spec()}, t.labelled(c)[0])
		if err != nil {
			return nil, err
		}
		if c != t.chapters[max(1, t.early())] {
			pic.Key = nil // it stands under the first
		}
		blocks = append(blocks, document.Paragraph(telling.Plain(t.brief(c.Step))), t.figure(pic))
	}
	blocks = append(blocks, c.photos...)
	return append(blocks, t.fold(t.Say("releases.more", "release", c.name), t.details(c)...)...), nil
}

// brief says what is seen of a release, what was done and what it did, in a sentence
// each.
func (t *tale) brief(step *catalogue.Step) string {
	var said []string
	t.Unlike = true // things to compare with stand where a change is told at length
	defer func() { t.Unlike = false }()
	certain := slices.DeleteFunc(slices.Clone(telling.Effects), func(key string) bool {
		s, ok := telling.Shift(step, key)
		return ok && s.ByDesign()
	})
	did := append(t.Done(step, certain), t.Done(step, telling.Effects)...)
	for _, list := range [][]string{t.Seen(step), t.Made(step), did} {
		said = append(said, list[:min(1, len(list))]...)
	}
	if len(said) == 0 {
		return t.Say("releases.nothing done")
	}
	return sentences(said)
}

// details are what is folded of a release.
func (t *tale) details(c *chapter) (blocks []document.Block) {
	if c.Against != nil {
		blocks = append(blocks, document.Beside{Left: t.changed(c), Right: t.effects(c)})
	}
	if t.Reader == Workshop {
		blocks = append(blocks, t.workshop(c)...)
	}
	return blocks
}

// begin says what the first release was.
func (t *tale) begin(c *chapter) string {
	said := []string{t.Say("releases.begin")}
	for _, key := range []string{"weight", "rings"} {
		if f, ok := c.Figures.Get(key); ok {
			said = append(said, t.Meaning(key, t.Supported(key, f.Unit, f.Value, f.Tolerance)))
		}
	}
	return sentences(said)
}

// changed says what of a release is seen to be otherwise, and what else is.
func (t *tale) changed(c *chapter) []document.Block {
	var blocks []document.Block
	if t.Reader == Customer || len(c.Sights()) == 0 { // a workshop has them in a table with the limits
		blocks = t.Listed("releases.seen", "releases.nothing seen", t.Seen(c.Step))
	}
	return append(blocks, t.Listed("releases.made", "", t.Made(c.Step))...)
}

// effects says what a release does, and what stayed.
func (t *tale) effects(c *chapter) []document.Block {
	return append(t.Listed("releases.done", "releases.nothing done", t.Done(c.Step, telling.Effects)), t.Stayed(c.Step)...)
}

// sentences puts sentences behind each other.
func sentences(said []string) string { return strings.Join(said, " ") }
