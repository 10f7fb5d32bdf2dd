package main

import (
	"rodlore/catalogue"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/diffing"
)

// wordsJSON are the maker's words for customers beside what the numbers say since
// the last release.
type wordsJSON struct {
	Tell    *string  `json:"tell"`
	Changed []string `json:"changed"` // in sentences
	Same    []string `json:"same"`    // figures
	Open    []string `json:"open"`    // figures of which the numbers cannot tell
}

// toldWords holds words against a step since the last release, which is nil where
// there is none.
func toldWords(t say.Teller, tell string, since *catalogue.Step) wordsJSON {
	doc := wordsJSON{orNull(tell), []string{}, []string{}, []string{}}
	if since == nil {
		return doc
	}
	teller := telling.Teller{Teller: t}
	doc.Changed = listOf(teller.Done(since, telling.Effects))
	doc.Same, doc.Open = listOf(teller.Named(since, diffing.Same)), listOf(teller.Named(since, diffing.Open))
	return doc
}

// showWords prints the maker's words beside what the numbers say.
func (p *printer) showWords(t say.Teller, tell string, since *catalogue.Step) {
	p.println()
	p.println(p.paint(bold, t.Say("words.heading")))
	for _, b := range (telling.Teller{Teller: t}).Beside(tell, since) {
		p.showBlock(b)
	}
}
