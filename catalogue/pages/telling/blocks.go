package telling

import (
	"math"
	"regexp"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// Columns are those of a table, with the heads at the paths under a path. One after a >
// is of numbers, and one without a name has no head.
func (t Teller) Columns(under string, heads ...string) []document.Column {
	columns := make([]document.Column, len(heads))
	for i, head := range heads {
		if head, columns[i].Right = strings.CutPrefix(head, ">"); head != "" {
			columns[i].Head = t.Say(under + "." + head)
		}
	}
	return columns
}

// OfFigures are columns for figures.
func (t Teller) OfFigures(keys []string) []document.Column {
	return say.Each(keys, func(key string) document.Column { return document.Column{Head: t.Name(key), Right: true} })
}

// Values writes figures of rods that stand below each other, a row a rod, each figure in
// one unit; "" where a rod has none.
func (t Teller) Values(rods []*evaluate.Figures, keys []string) [][]string {
	rows := make([][]string, len(rods))
	for i := range rows {
		rows[i] = make([]string, len(keys))
	}
	for k, key := range keys {
		alike := t.InOneUnit(key, rods)
		for i, figs := range rods {
			if f, ok := figs.Get(key); ok {
				rows[i][k] = alike.Value(key, f.Unit, f.Value)
			}
		}
	}
	return rows
}

// InOneUnit is the display of a figure of rods that stand beside each other.
func (t Teller) InOneUnit(key string, rods []*evaluate.Figures) figures.Display {
	alike := t.Display
	for _, figs := range rods {
		if f, ok := figs.Get(key); ok {
			alike = alike.Alike(f.Value)
		}
	}
	return alike
}

// Measured is a table of what was measured of rods beside what was worked out.
func (t Teller) Measured(figs *evaluate.Figures, m *catalogue.Measurements) document.Table {
	table := document.Table{Caption: t.Say("review.measured.table"), Columns: t.Columns("review.measured", "figure", ">on rod", ">worked", ">off", "rod")}
	for _, f := range figs.List {
		d := t.Single(f.Key)
		for _, one := range m.Of(f.Key) {
			table.Add(t.Name(f.Key), d.WithTolerance(f.Key, f.Unit, one.Value, one.Deviation), d.WithTolerance(f.Key, f.Unit, f.Value, f.Tolerance),
				figures.Deviations(f.Deviations(one.Value, one.Deviation)), t.RodName(one.Rod)+", "+one.Date)
		}
	}
	return table
}

// Open is a table of the figures among shifts of which the numbers cannot tell, with
// what would decide it.
func (t Teller) Open(shifts []diffing.Shift) document.Table {
	table := document.Table{Caption: t.Say("review.since.open"), Columns: t.Columns("review.since", "untold", ">change", ">noticed", "decides")}
	for _, s := range shifts {
		if d := t.Single(s.Key); s.Answer() == diffing.Open {
			table.Add(t.Name(s.Key), d.ChangeWithTolerance(s.Key, s.Unit, s.Change, s.New.Value, s.Tolerance()),
				d.Deviation(s.Key, s.Unit, s.Noticed, s.New.Value), t.Decide(s))
		}
	}
	return table
}

// Edits is a table of every edit of a step; it has no rows where there are none.
func (t Teller) Edits(step *catalogue.Step) document.Table {
	table := document.Table{Caption: t.Say("workshop.edits"), Columns: t.Columns("workshop", "edit", "what")}
	for _, e := range diffing.Edits(step.Changes) {
		table.Add(t.Group(e.Group), t.Summary(e.Changes, 0))
	}
	return table
}

// Sights is a table of what is seen changed against the limits for one release.
func (t Teller) Sights(step *catalogue.Step) document.Table {
	table := document.Table{Caption: t.Say("workshop.steps"), Columns: t.Columns("workshop", "seen", "was", "is", ">by", ">limit", "within")}
	for _, s := range step.Sights() {
		within, limit := t.Say("workshop.yes"), t.Limit(s)
		switch {
		case s.Over():
			within = t.Say("workshop.no")
		case math.IsInf(s.Limit, 1):
			within = ""
		}
		if limit != "" && !s.Own {
			limit = t.Say("workshop.common", "limit", limit)
		}
		table.Add(t.Aspect(s.Aspect), t.Looks(s.Old), t.Looks(s.New), t.By(s), limit, within)
	}
	return table
}

// Reason says why a revision was made.
func (t Teller) Reason(rev *catalogue.Revision) document.Block {
	why := reason(rev.Why)
	if rev.Fault() != nil {
		why = t.Say("workshop.fault", "why", why, "fault", catalogue.FirstFault(rev.Fault()).Error())
	}
	return document.Paragraph{{Text: rev.Day(), Bold: true}, {Text: " " + why}}
}

// reason puts what was written with a save on one line: its first line, which is
// a title, as a sentence before the others.
func reason(why string) string {
	title, rest, _ := strings.Cut(strings.TrimSpace(why), "\n")
	title, rest = Reflow(title), Reflow(rest)
	if rest == "" {
		return title
	}
	if !strings.ContainsAny(title[len(title)-1:], ".!?:") {
		title += "."
	}
	return title + " " + rest
}

// Remark is what a customer said.
func Remark(m models.Remark) document.Block {
	return document.Quote{{Text: m.Date.Text, Bold: true}, {Text: " " + Reflow(m.Said.Text)}}
}

// Listed is a list under the head at a path; where it is empty the paragraph at another
// one, or nothing where that is "".
func (t Teller) Listed(head, none string, items []string) []document.Block {
	switch {
	case len(items) > 0:
	case none == "":
		return nil
	default:
		return []document.Block{t.Paragraph(none)}
	}
	return []document.Block{document.Paragraph(document.Bold(t.Say(head))), Bullets(items)}
}

// Caution is what is said of a danger with the rod of a spec: cane neither conducts nor
// splinters as carbon does.
func (t Teller) Caution(s *models.Spec, danger string) document.Caution {
	path := "cautions." + danger
	if cane := "cautions.cane " + danger; s.OfCane() && t.Has(cane+".text") {
		path = cane
	}
	return document.Caution{Title: t.Say(path + ".title"), Text: Plain(t.Say(path + ".text"))}
}

// Cautions are those for several dangers, in two columns.
func (t Teller) Cautions(s *models.Spec, dangers ...string) document.Block {
	var columns [2][]document.Block
	for i, danger := range dangers {
		columns[i%2] = append(columns[i%2], t.Caution(s, danger))
	}
	return document.Beside{Left: columns[0], Right: columns[1]}
}

// Stayed says what a step left as it was, in a paragraph; none where that is nothing.
func (t Teller) Stayed(step *catalogue.Step) []document.Block {
	same := t.Same(step)
	if len(same) == 0 {
		return nil
	}
	return []document.Block{document.Paragraph(Plain(t.Say("releases.same") + " " + strings.Join(same, " ")))}
}

// Paragraph is the text at a path as a paragraph.
func (t Teller) Paragraph(path string, pairs ...string) document.Block {
	return document.Paragraph(Plain(t.Say(path, pairs...)))
}

// Bullets is a list of texts.
func Bullets(items []string) document.Block {
	list := document.List{}
	for _, item := range items {
		list.Items = append(list.Items, Plain(item))
	}
	return list
}

// Plain is a text in which numbers stay on one line with their units.
func Plain(text string) document.Text {
	return document.Plain(bound.ReplaceAllString(text, "$1\u00a0$2"))
}

var bound = regexp.MustCompile(`(\d) (%|±|(?:mm|m|g|kg|N|Hz|s|min|in|ft|oz|lb)\b)`)

// Reflow puts what was written over several lines into one.
func Reflow(text string) string { return strings.Join(strings.Fields(text), " ") }
