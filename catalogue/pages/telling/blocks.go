package telling

import (
	"math"
	"regexp"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/diffing"
	"rodlore/models"
)

// Edits is a table of every edit of a step; it has no rows where there are none.
func (t Teller) Edits(step *catalogue.Step) document.Table {
	table := document.Table{
		Caption: t.Say("workshop.edits"), Columns: []document.Column{{Head: t.Say("workshop.edit")}, {Head: t.Say("workshop.what")}},
	}
	for _, e := range diffing.Edits(step.Changes) {
		table.Add(t.Group(e.Group), t.Summary(e.Changes, 0))
	}
	return table
}

// Sights is a table of what is seen changed against the limits for one release.
func (t Teller) Sights(step *catalogue.Step) document.Table {
	table := document.Table{Caption: t.Say("workshop.steps"), Columns: []document.Column{
		{Head: t.Say("workshop.seen")}, {Head: t.Say("workshop.was")}, {Head: t.Say("workshop.is")},
		{Head: t.Say("workshop.by"), Right: true}, {Head: t.Say("workshop.limit"), Right: true}, {Head: t.Say("workshop.within")},
	}}
	for _, s := range step.Sights {
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
		why = t.Say("workshop.fault", "why", why, "fault", FirstLine(rev.Fault()))
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

// Listed is a list under the head at a path, or the paragraph at another one
// where the list is empty.
func (t Teller) Listed(head, none string, items []string) []document.Block {
	if len(items) == 0 {
		return []document.Block{t.Paragraph(none)}
	}
	return []document.Block{document.Paragraph(document.Bold(t.Say(head))), Bullets(items)}
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

// FirstLine is the first line of an error.
func FirstLine(err error) string {
	line, _, _ := strings.Cut(err.Error(), "\n")
	return line
}
