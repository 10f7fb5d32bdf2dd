package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// showJourney prints a plan: its figures release by release, then what each
// release changes and what a customer sees of it.
func (p *printer) showJourney(j *journey) {
	p.wrapped("", fmt.Sprintf("%s → %s in %s", title(j.start), j.goal, count(len(j.Releases), "release")))
	p.println()
	p.showWay(j)
	before, beside := j.task.Start, heading(j.start)
	for i, r := range j.Releases {
		p.println()
		p.showPlanned(j, i, before, beside)
		before, beside = r.Spec, "release "+strconv.Itoa(i+1)
	}
	p.paragraph("%s", j.account())
	if j.dir != "" {
		p.paragraph("wrote %s into %s; when its year has come, put one in the place of models/%s.yaml",
			count(len(j.Releases), "spec"), j.dir, j.model)
	}
	if len(before.Rings) > 1 { // besides the tip ring there is something to try
		p.paragraph("%s", patternsCaution)
	}
	p.showNotes(j.notes(say.English().Teller(j.task.Settings)))
}

// showPlanned prints one release of a plan: what it changes, where its rings
// stand, and what a customer sees beside the release before.
func (p *printer) showPlanned(j *journey, i int, before *models.Spec, beside string) {
	r, width := j.Releases[i], p.width()-len(indent)
	name := "release " + strconv.Itoa(i+1)
	if i == len(j.Releases)-1 {
		name += ", the goal"
	}
	p.println(p.paint(bold, name))
	t := say.English().Teller(j.task.Settings)
	p.differences(t, diffing.Specs(before, r.Spec), mostChanges)
	p.indented(indent, fill(ringPlaces(t.Display, r.Spec), " · ", width))
	if len(r.Sights) > 0 {
		p.wrapped(indent, besideRelease(t, beside, r.Sights))
	}
}

// showWay prints the figures of each release in a row: those that are to come
// first, then the main ones as long as there is room.
func (p *printer) showWay(j *journey) {
	d := j.task.Settings.Display()
	keys := j.task.First
	for _, key := range mainFigures {
		if wider := append(slices.Clone(keys), key); !slices.Contains(keys, key) && j.way(d, wider).width(p.width()) <= p.width() {
			keys = wider
		}
	}
	p.print("", j.way(d, keys))
	if !slices.Contains(keys, "load-limit") {
		return
	}
	var limits []*evaluate.Figure
	add := func(figs *evaluate.Figures) {
		if figs != nil {
			f, _ := figs.Get("load-limit")
			limits = append(limits, &f)
		}
	}
	add(j.Start)
	for _, r := range j.Releases {
		add(r.Figures)
	}
	p.showWeakest(say.English().Teller(j.task.Settings), limits...)
}

// way is the table with those figures.
func (j *journey) way(d figures.Display, keys []string) table {
	t := newTable(append([]column{words("release")}, ofFigures(keys)...)...)
	row := func(name string, figs *evaluate.Figures) {
		t.add(append([]string{name}, valuesOf(d, figs, keys, "none")...)...)
	}
	row(heading(j.start), j.Start)
	for i, r := range j.Releases {
		row(strconv.Itoa(i+1), r.Figures)
	}
	return t
}

// account says how the plan was found.
func (j *journey) account() string {
	names := say.Each(j.task.First, figures.Short)
	text := fmt.Sprintf("The best of all %.0f orders that keep to the limits, for %s.", j.Ways, strings.Join(names, ", "))
	if j.Ways == 1 {
		text = "The only order that keeps to the limits."
	}
	for i, edits := range j.Together {
		if i == 0 {
			text += " To keep their number down, edits that no customer sees were made together:"
		} else {
			text += ";"
		}
		text += " " + strings.Join(edits, " with ")
	}
	if len(j.Together) > 0 {
		text += "."
	}
	return text
}

// notes must be shown with a plan.
func (j *journey) notes(t say.Teller) []footnote {
	var notes []footnote
	if j.task.Start.ID() != j.start.ID { // another rod with the parts of today
		notes = append(notes, footnote{"", "parts or materials have changed since " + heading(j.start) + "; it stands here as it would be built today"})
	}
	return append(notes, notesOn(t, j.Releases[len(j.Releases)-1].Figures.Notes)...)
}
