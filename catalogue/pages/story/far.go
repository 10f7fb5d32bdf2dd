package story

import (
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
)

// far says what is known of how far the rod casts: what customers said of it, and what
// the numbers say and do not say.
func (t *tale) far() ([]document.Block, error) {
	const most = 2 // remarks, the newest
	blocks := []document.Block{t.heading(2, "far.heading")}
	var heard []document.Block
	for _, c := range t.chapters {
		for _, remark := range c.heard {
			heard = append(heard, document.Quote{{Text: telling.Reflow(remark.Said.Text)}, {Text: " " + t.Say("far.said", "release", c.name)}})
		}
	}
	blocks = append(blocks, heard[max(0, len(heard)-most):]...)
	var said []string
	if t.whole != nil {
		if s, ok := telling.Shift(t.whole.Step, "cast-share"); ok && t.Shift(s) != "" {
			said = append(said, t.Shift(s))
		}
	}
	if len(said) == 0 {
		return append(blocks, t.Paragraph("far.untold")), nil
	}
	return append(blocks, document.Paragraph(telling.Plain(sentences(append(said, t.Say("far.unknown")))))), nil
}
