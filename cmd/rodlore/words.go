package main

import (
	"slices"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
)

// mainFigures are those that a maker looks at first; they stand for the whole
// where there is room for a few only.
var mainFigures = figures.Keys(figures.Main)

func isMain(key string) bool { return figures.Of(key).In&figures.Main != 0 }

// changeText writes a change of a figure of that value in one system of units; ""
// where it rounds to nothing.
func changeText(d figures.Display, key, unit string, change, value float64) string {
	d = d.Single(key)
	if !d.Shows(key, unit, change, value) {
		return ""
	}
	return d.Change(key, unit, change, value)
}

// ofFigures are columns for figures.
func ofFigures(keys []string) []column {
	return say.Each(keys, func(key string) column { return numbers(figures.Short(key)) })
}

// valuesOf writes figures of a rod, each in one system of units; where there is none it
// is the word for that.
func valuesOf(d figures.Display, figs *evaluate.Figures, keys []string, none string) []string {
	cells := slices.Repeat([]string{none}, len(keys))
	for i, key := range keys {
		if figs == nil {
			break
		}
		if f, ok := figs.Get(key); ok {
			cells[i] = d.Single(key).Value(key, f.Unit, f.Value)
		}
	}
	return cells
}

// title names a revision: "Skerry 10, 2026 (2026-01-18, 5c2e1f0a)".
func title(r *catalogue.Revision) string { return say.English().Title(r) }

// standing says which revision it is.
func standing(r *catalogue.Revision) string { return say.English().Standing(r) }

// heading names a revision at the top of a column, in a word.
func heading(r *catalogue.Revision) string {
	name := "draft"
	switch r.Status {
	case catalogue.Released:
		name = say.English().Label(r, r.Label())
	case catalogue.Prototype:
		name = day(r.When)
	}
	return rodArg(name, r.Top)
}

func day(t time.Time) string { return t.Format(time.DateOnly) }

// differences tells what changed, in short lines of a group each.
func (p *printer) differences(t say.Teller, changes []diffing.Change, most int) {
	list := newTable(words(""), filling(""))
	for _, e := range diffing.Edits(changes) {
		list.add(e.Group.String(), t.Summary(e.Changes, most))
	}
	p.print(indent, list)
}

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
