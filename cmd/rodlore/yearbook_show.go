package main

import (
	"fmt"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/yearbook"
	"rodlore/catalogue/say"
)

// showYear prints a year in short, or else the whole book as it is written into a file.
func (p *program) showYear(r *catalogue.Range, y *catalogue.Year, all bool) error {
	set, err := r.Settings()
	if err != nil {
		return err
	}
	p.remarked = true
	if all {
		book, err := yearbook.Of(r, y, yearbook.Options{Now: p.now(), Words: say.English()})
		if err == nil {
			p.showDocument(book)
		}
		return err
	}
	teller := yearTeller{&p.printer, y}
	p.println(p.paint(bold, fmt.Sprintf("%d, %s", y.Number, set.Maker)))
	teller.numbers()
	teller.quiet()
	teller.drift()
	p.showNotes(notesOf(told(say.English().Teller(set), y.Notes)))
	p.more("--all shows what changed, and why, model by model; --out writes it into a file")
	return nil
}

// yearTeller prints a year in short.
type yearTeller struct {
	p    *printer
	year *catalogue.Year
}

// numbers prints the year in a few numbers, and model by model.
func (t yearTeller) numbers() {
	n := t.year.Counts()
	counts := []string{
		count(n.Releases, "release"), count(n.Prototypes, "prototype") + " saved", count(n.Rods, "rod") + " built",
		count(n.Repairs, "repair"), count(n.Remarks, "remark"),
	}
	t.p.indented("", fill(counts, " · ", t.p.width()))
	if t.year.Begun == "" || t.year.Begun[:4] > fmt.Sprintf("%04d", t.year.Number) {
		t.p.println(beforeBegun(t.year.Begun))
	}
	if len(t.year.Models) == 0 {
		return
	}
	list := newTable(
		words("model"), words("at its end"), words("released"), numbers("prototypes"), numbers("rods"), numbers("repairs"), numbers("remarks"),
	)
	for _, m := range t.year.Models {
		labels := say.Each(m.Releases, func(i *catalogue.Issue) string { return i.Label })
		list.add(m.Model, yearEnd(m), strings.Join(labels, ", "),
			orBlank(len(m.Prototypes)), orBlank(len(m.Rods)), orBlank(len(m.Repairs)), orBlank(len(m.Heard)))
	}
	t.p.println()
	t.p.print("", list)
}

func beforeBegun(begun string) string {
	if begun == "" {
		return "Nothing of this range is saved yet."
	}
	return "Nothing was saved before " + begun + "."
}

// orBlank is a number, and nothing for none.
func orBlank(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

// yearEnd says how a model stood when the year ended.
func yearEnd(m *catalogue.ModelYear) string {
	switch {
	case m.Stood == nil && m.UnderWay != nil:
		return "draft"
	case m.Stood == nil:
		return "taken out"
	case m.Stood.Fault() != nil:
		return "faults"
	case m.Label == "":
		return "prototype"
	case m.Ahead:
		return "prototype after " + m.Label
	}
	return m.Label
}

// quiet prints the models that nothing became of, a line each.
func (t yearTeller) quiet() {
	if len(t.year.Quiet) == 0 {
		return
	}
	list := newTable(words("without a change"), filling(""))
	for _, m := range t.year.Quiet {
		list.add(m.Model, yearEnd(m))
	}
	t.p.println()
	t.p.print("", list)
}

// drift prints what the weights of the year say of the workshop.
func (t yearTeller) drift() {
	chart := t.year.Chart
	if chart == nil || chart.Control == nil {
		return
	}
	for _, s := range t.year.Signals() {
		t.p.paragraph("! %s", signalWords(chart, s))
	}
}
