package main

import (
	"slices"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/evaluate"
)

// figureNotes are those of the figures and what could not be read of
// measurements.
func figureNotes(t say.Teller, figs *evaluate.Figures, m *catalogue.Measurements) []footnote {
	return slices.Concat(notesOn(t, figs.Notes), notesOf(told(t, m.Unread)))
}

// measuredOf is one measurement of a figure. deviation is how many standard deviations,
// of the reading and of the figure's tolerance together, it lies off the figure.
func measuredOf(f evaluate.Figure, m catalogue.Measurement) object {
	return object{
		{"value", m.Value}, {"uncertainty", m.Deviation}, {"rod", say.English().RodName(m.Rod)}, {"date", m.Date},
		{"deviation", f.Deviations(m.Value, m.Deviation)},
	}
}

// showMeasured holds what was measured against the figures, which have their
// tolerances.
func (p *printer) showMeasured(s subject, figs *evaluate.Figures, m *catalogue.Measurements) {
	if len(m.List) == 0 {
		return
	}
	t := telling.Teller{Teller: s.teller()}
	table := textTable(t.Measured(figs, m))
	table.columns[len(table.columns)-1].head = "" // it goes without saying
	p.println()
	p.print("", table)
	p.println(t.Say("review.measured.how"))
}
