package main

import (
	"fmt"
	"slices"
	"strconv"

	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// patternFigures are those that patterns are compared by, whatever becomes of
// them.
var patternFigures = []string{
	"weight", "ring-weight", "recovery", "flat-turn", "line-gap", "line-touch",
	"ring-load-worst", "ring-turn-spread", "cast-share", "line-share", "parts-cost", "bench-time",
}

// worse marks what got worse.
const worse = "!"

const patternsCaution = "Try a pattern before you whip it: rings taped on, the line through them, the rod loaded " +
	"slowly and not beyond what it fishes with. Wear eye protection and keep people clear of rod and line."

// showPatterns prints the patterns beside the present one.
func (p *printer) showPatterns(s subject, list *laidOut) {
	d := s.display()
	p.println(p.paint(bold, title(s.Revision)))
	p.wrapped("", fmt.Sprintf("laid out with %s on the line, half the test curve of the rod as it is",
		d.Value("", "N", list.present.Tension)))
	p.println()
	p.showPatternFigures(d, list)
	p.println()
	p.showPlaces(s.teller(), pattern{Pattern: list.present}, "now")
	for _, o := range list.others {
		p.showPlaces(s.teller(), o, o.name())
	}
	p.wrapped("", patternsCaution)
	p.showNotes(notesOn(s.teller(), list.present.Figures.Notes))
}

// name is what a pattern is called.
func (o pattern) name() string {
	if o.like != "" {
		return "like " + o.like
	}
	return count(o.count, "ring")
}

// head is what stands above its column.
func (o pattern) head() string {
	if o.like != "" {
		return "like"
	}
	return strconv.Itoa(o.count)
}

// showPatternFigures prints the figures of the present pattern and what changes
// with the others, as many tables below each other as their columns take.
func (p *printer) showPatternFigures(d figures.Display, list *laidOut) {
	sound := slices.DeleteFunc(slices.Clone(list.others), func(o pattern) bool { return o.fault != nil })
	rows := patternRows(d, list.present, sound)
	present := strconv.Itoa(len(list.present.Rings) - 1)
	for from := 0; from < len(sound); {
		to := from + 1
		for to < len(sound) && patternTable(rows, present, sound, from, to+1).width(p.width()) <= p.width() {
			to++
		}
		p.print("", patternTable(rows, present, sound, from, to))
		from = to
		if from < len(sound) {
			p.println()
		}
	}
	p.println(worse + " worse than now")
}

// patternRow is one figure: its name with the unit, its value now, and its
// value and its change with each other pattern.
type patternRow struct {
	name, now       string
	values, changes []string
}

// patternRows are the rows of those figures and of every other one that gets
// worse somewhere.
func patternRows(d figures.Display, present *evaluate.Pattern, others []pattern) []patternRow {
	var rows []patternRow
	for _, f := range present.Figures.List {
		row, gotWorse := newPatternRow(d, f, others)
		if slices.Contains(patternFigures, f.Key) || gotWorse {
			rows = append(rows, row)
		}
	}
	return rows
}

func newPatternRow(d figures.Display, now evaluate.Figure, others []pattern) (row patternRow, gotWorse bool) {
	column := d.Column(now.Key, now.Unit, now.Value)
	row = patternRow{name: figures.Short(now.Key), now: column.Number(now.Value)}
	if column.Unit() != "" {
		row.name += ", " + column.Unit()
	}
	for _, o := range others {
		cell, value := "none ", "none"
		if f, ok := o.Figures.Get(now.Key); ok {
			change, mark := f.Value-now.Value, " "
			text, shows := column.Change(change, now.Value)
			switch {
			case !shows:
				text = "same"
			case change*float64(figures.Of(now.Key).Better) < 0:
				mark, gotWorse = worse, true
			}
			cell, value = text+mark, column.Number(f.Value)
		}
		row.values, row.changes = append(row.values, value), append(row.changes, cell)
	}
	return row, gotWorse
}

// patternTable is a table of the patterns from one up to another. One alone has
// its values in it too.
func patternTable(rows []patternRow, present string, others []pattern, from, to int) table {
	t := newTable(words("rings"), numbers("now "+present))
	if len(others) == 1 {
		t.columns = append(t.columns, numbers(others[0].head()), numbers("change "))
		for _, r := range rows {
			t.add(r.name, r.now, r.values[0], r.changes[0])
		}
		return t
	}
	for _, o := range others[from:to] {
		t.columns = append(t.columns, numbers(o.head()+" "))
	}
	for _, r := range rows {
		t.add(append([]string{r.name, r.now}, r.changes[from:to]...)...)
	}
	return t
}

// showPlaces prints where the rings of a pattern stand and what binds it.
func (p *printer) showPlaces(t say.Teller, o pattern, name string) {
	p.println(p.paint(bold, name))
	if o.fault != nil {
		p.wrapped("  ", o.fault.Error())
		p.println()
		return
	}
	p.indented("  ", fill(ringPlaces(t.Display, o.Spec), " · ", p.width()-2))
	for _, b := range t.Notes(o.Binding) {
		lines := wrap(b, p.width()-4)
		p.println("  - " + lines[0])
		p.indented("    ", lines[1:])
	}
	p.println()
}

// ringPlaces are the places of the rings from the tip, each with its part.
func ringPlaces(d figures.Display, s *models.Spec) []string {
	return say.Each(s.Rings, func(g models.Ring) string { return d.Place(float64(g.At.Value)) + " " + g.Part.Text })
}
