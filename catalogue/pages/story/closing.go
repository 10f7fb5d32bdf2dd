package story

import (
	"rodlore/catalogue/pages"
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

// dangers are what may hurt somebody who has the rod, and who builds it.
var (
	dangers         = []string{"power lines", "loading", "pulling", "care"}
	workshopDangers = []string{"dust", "resin"}
)

// cautions says what a rod may do to people.
func (t *tale) cautions() ([]document.Block, error) {
	list := dangers
	if t.Reader == Workshop {
		list = append(list[:len(list):len(list)], workshopDangers...)
	}
	var both document.Beside
	for i, danger := range list {
		danger = pages.Danger(t.spec(), danger)
		column := &both.Left
		if i%2 == 1 {
			column = &both.Right
		}
		*column = append(*column, document.Caution{
			Title: t.Say("cautions." + danger + ".title"), Text: telling.Plain(t.Say("cautions." + danger + ".text")),
		})
	}
	short := "cautions." + pages.Danger(t.spec(), "short")
	blocks := []document.Block{t.heading(2, "cautions.heading"), document.Caution{
		Title: t.Say(short + ".title"), Text: telling.Plain(t.Say(short + ".text")),
	}}
	if t.Print {
		return append(blocks[:1], both, t.Paragraph("cautions.first")), nil
	}
	return append(blocks, document.Details{Summary: t.Say("cautions.all"), Blocks: []document.Block{both, t.Paragraph("cautions.first")}}), nil
}
