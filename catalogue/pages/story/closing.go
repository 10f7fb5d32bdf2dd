package story

import (
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
)

// glossary are the terms of the trade that the pages use.
var glossary = []string{
	"blank", "section", "joint", "ring", "tip ring", "butt ring", "foot", "whipping", "reel seat", "free length",
	"third load", "test curve", "recovery", "flat turn", "the same",
}

// terms explains the words of the trade.
func (t *tale) terms() []document.Block {
	var terms document.Terms
	for _, term := range glossary {
		terms = append(terms, document.Term{
			Word: t.Say("terms." + term + ".word"), Text: telling.Plain(t.Say("terms." + term + ".text")),
		})
	}
	half := (len(terms) + 1) / 2
	return t.fold(t.Say("terms.heading"), beside(terms[:half], terms[half:]))
}

// cautions says what a rod may do to people who have it, and who build it.
func (t *tale) cautions() ([]document.Block, error) {
	dangers := []string{"power lines", "loading", "pulling", "care"}
	if t.Reader == Workshop {
		dangers = append(dangers, "dust", "resin")
	}
	all := []document.Block{t.Cautions(t.spec(), dangers...), t.Paragraph("cautions.first")}
	heading := t.heading(2, "cautions.heading")
	if t.Print {
		return append([]document.Block{heading}, all...), nil
	}
	return []document.Block{heading, t.Caution(t.spec(), "short"), document.Details{Summary: t.Say("cautions.all"), Blocks: all}}, nil
}
