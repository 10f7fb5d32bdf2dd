package main

import (
	"fmt"
	"strings"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/diffing"
)

func (p *program) showYear(r *catalogue.Range, y *catalogue.Year, all bool) error {
	set, err := r.Settings()
	if err != nil {
		return err
	}
	teller := yearTeller{stepTeller{p: p, say: say.English().Teller(set)}, y}
	p.println(p.paint(bold, fmt.Sprintf("%d, %s", y.Number, set.Maker)))
	teller.numbers()
	if all {
		for _, m := range y.Models {
			teller.model(m)
		}
	}
	teller.quiet()
	teller.drift()
	if all {
		teller.stock()
	}
	p.remarked = true
	p.showNotes(notesOf(told(teller.say, y.Notes)))
	if !all {
		p.more("--all shows what changed, and why, model by model; --out writes it into a file")
	}
	return nil
}

// yearTeller prints a year.
type yearTeller struct {
	stepTeller
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
		var labels []string
		for _, i := range m.Releases {
			labels = append(labels, i.Label)
		}
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

// model prints the year of one model.
func (t yearTeller) model(m *catalogue.ModelYear) {
	p := t.p
	p.println()
	p.println(p.paint(bold, m.Name()) + "  " + p.paint(faint, m.Model))
	for _, rev := range m.Renamed() {
		p.println("renamed on " + rev.Day() + ": " + rev.Before.FileName() + " → " + rev.FileName())
	}
	if m.Gone != nil {
		p.wrapped("", "taken out of the range on "+m.Gone.Day()+": "+reflow(m.Gone.Why))
	}
	for _, issue := range m.Releases {
		t.release(issue)
	}
	for _, b := range m.Besides {
		p.println(p.paint(bold, b.Day()) + "  the same rod, of which something else is said")
		p.indented(indent, wrap(reflow(b.Why), p.width()-len(indent)))
		p.differences(t.say, b.Changes, mostChanges)
	}
	if m.UnderWay != nil {
		t.underWay(m.UnderWay)
	}
	t.workshop(m)
}

func (t yearTeller) release(issue *catalogue.Issue) {
	again := ""
	if issue.Again != "" {
		again = ", the same rod as " + issue.Again
	}
	t.p.println(t.p.paint(bold, say.English().Label(issue.Revision, issue.Label)) + "  released on " + issue.When.Format(time.DateOnly) + again)
	t.reasons(issue.Made)
	if issue.Tell != "" && issue.Again == "" {
		t.p.wrapped(indent, "“"+reflow(issue.Tell)+"”")
	}
	t.outcome(issue.Step)
}

func (t yearTeller) underWay(u *catalogue.Trial) {
	if len(u.Saved) > 0 {
		t.p.println(t.p.paint(bold, "under way"))
		t.reasons(u.Saved)
	}
	if u.Newest != nil {
		t.outcome(u.Newest)
	}
	if u.Draft != nil {
		t.p.println(t.p.paint(bold, "draft, not saved"))
		t.outcome(u.Draft)
	}
}

// reasons prints why each of some revisions was made, by the first line.
func (t yearTeller) reasons(revs []*catalogue.Revision) {
	list := newTable(words(""), filling(""))
	for _, rev := range revs {
		first, _, _ := strings.Cut(rev.Why, "\n")
		list.add(rev.Day(), first)
	}
	t.p.print(indent, list)
}

// workshop prints what was built, mended and heard of a model.
func (t yearTeller) workshop(m *catalogue.ModelYear) {
	p := t.p
	if len(m.Rods) > 0 {
		p.println(p.paint(bold, "rods built"))
		list := rodsTable(t.say.Display, m.Rods, m.Weighings)
		list.columns[2] = column{} // of one model
		for i := range list.rows {
			list.rows[i][2] = ""
		}
		p.print(indent, list)
	}
	for _, r := range m.Repairs {
		p.wrapped("", "mended "+r.Serial.Text+", "+repairWords(t.say.Display, r.Repair))
	}
	for _, h := range m.Heard {
		p.wrapped("", "heard "+h.Date.Text+" of "+h.Release.Text+": “"+reflow(h.Said.Text)+"”")
	}
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

// stock prints what changed of the parts and materials.
func (t yearTeller) stock() {
	if len(t.year.Stock) == 0 {
		return
	}
	list := newTable(words("saved on"), words("part or material"), filling("change"))
	for _, e := range t.year.Stock {
		if e.Begun {
			list.add(e.State.Day(), e.File, count(len(e.Changes), "entry"))
			continue
		}
		for _, edit := range diffing.Edits(e.Changes) {
			list.add(e.State.Day(), edit.Group.Of, t.say.Summary(edit.Changes, mostChanges))
		}
	}
	t.p.println()
	t.p.print("", list)
}
