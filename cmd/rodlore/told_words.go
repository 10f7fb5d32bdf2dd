package main

import (
	"rodlore/catalogue"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/diffing"
)

// toldWords are the maker's words for customers beside what the numbers say since the
// last release; the step is nil where there is none.
func toldWords(t say.Teller, tell string, since *catalogue.Step) object {
	var changed, same, open []string
	if since != nil {
		teller := telling.Teller{Teller: t}
		changed = teller.Done(since, telling.Effects)
		same, open = teller.Named(since, diffing.Same), teller.Named(since, diffing.Open)
	}
	return object{
		{"tell", orNull(tell)},
		{"changed", changed}, // in sentences
		{"same", same},       // figures
		{"open", open},       // figures of which the numbers cannot tell
	}
}

// showWords prints the maker's words beside what the numbers say.
func (p *printer) showWords(t say.Teller, tell string, since *catalogue.Step) {
	p.println()
	p.println(p.paint(bold, t.Say("words.heading")))
	for _, b := range (telling.Teller{Teller: t}).Beside(tell, since) {
		p.showBlock(b)
	}
}
