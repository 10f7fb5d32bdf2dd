package story

import (
	"slices"

	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/models"
)

// far says what is known of how far the rod casts: casts that were paced out or
// measured, what customers said of it, and what the numbers say and do not say.
func (t *tale) far() ([]document.Block, error) {
	const most = 3 // remarks: casts before words, the newest last
	var heard, casts []document.Block
	for _, c := range t.chapters {
		for _, remark := range c.heard {
			said := document.Quote{{Text: telling.Reflow(remark.Said.Text)}, {Text: " " + t.Say("far.said", "release", c.name)}}
			if remark.Cast.Set() {
				casts = append(casts, slices.Insert(said, 0, document.Span{Text: t.Written(remark.Cast.Quantity()) + ": ", Bold: true}))
			} else {
				heard = append(heard, said)
			}
		}
	}
	told := slices.Concat(heard[max(0, len(heard)-max(0, most-len(casts))):], casts)
	if newest := t.chapters[len(t.chapters)-1]; len(told) == 0 && newest.Spec().Reel.Kind == models.NoReel {
		return nil, nil // a line tied to the tip goes as far as it is long
	}
	blocks := append([]document.Block{t.heading(2, "far.heading")}, told[max(0, len(told)-most):]...)
	if len(casts) == 0 {
		blocks = append(blocks, document.Paragraph(telling.Plain(sentences(t.unmeasured()))))
	}
	if t.Print && t.whole != nil && len(t.photos) > 0 {
		return []document.Block{document.Beside{Left: blocks, Right: t.photos}}, nil
	}
	return blocks, nil
}

// unmeasured says what the numbers say of a cast and what they do not.
func (t *tale) unmeasured() []string {
	known := "far.untold"
	var said []string
	if t.whole != nil {
		for _, key := range []string{"cast-share", "line-share"} {
			if s, ok := telling.Shift(t.whole.Step, key); ok && t.Shift(s) != "" {
				said, known = append(said, t.Shift(s)), "far.unknown"
			}
		}
	}
	return append(said, t.Say(known), t.Say("far.unmeasured"))
}
