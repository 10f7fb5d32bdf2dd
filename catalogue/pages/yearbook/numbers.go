package yearbook

import (
	"strconv"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
)

// numbers are the year in a few numbers, and model by model.
func (b *book) numbers() []document.Block {
	blocks := []document.Block{b.heading(2, "numbers.heading"), document.Paragraph(telling.Plain(b.counts()))}
	switch begun := b.year.Begun; {
	case begun == nil:
		blocks = append(blocks, b.paragraph("numbers.never"))
	case begun.When.Year() > b.year.Number:
		blocks = append(blocks, b.paragraph("numbers.before", "day", begun.Day()))
	}
	if drafts := b.drafts(); len(drafts) > 0 {
		blocks = append(blocks, b.paragraph("numbers.drafts", "list", b.List(drafts)))
	}
	if len(b.year.Models) > 0 {
		blocks = append(blocks, b.overview())
	}
	return blocks
}

// counts says how much there was of what.
func (b *book) counts() string {
	n := b.year.Counts()
	var said []string
	for _, c := range []struct {
		path string
		n    int
	}{
		{"numbers.releases", n.Releases}, {"numbers.prototypes", n.Prototypes}, {"numbers.rods", n.Rods},
		{"numbers.repairs", n.Repairs}, {"numbers.remarks", n.Remarks},
	} {
		if c.n > 0 {
			said = append(said, b.count(c.path, c.n))
		}
	}
	if len(said) == 0 {
		return b.say("numbers.none")
	}
	return b.say("numbers.all", "list", b.List(said))
}

// drafts are the models that were edited and not saved.
func (b *book) drafts() []string {
	var names []string
	for _, m := range b.year.Models {
		if m.UnderWay != nil && m.UnderWay.Draft != nil {
			names = append(names, m.Name())
		}
	}
	return names
}

// overview is a table of the models with something to tell of.
func (b *book) overview() document.Block {
	table := document.Table{
		Caption: b.say("numbers.table"),
		Columns: b.Columns("yearbook.numbers", "model", "stood", "released", ">prototype", ">built", ">mended", ">heard"),
	}
	for _, m := range b.year.Models {
		labels := say.Each(m.Releases, func(i *catalogue.Issue) string { return b.Label(i.Revision, i.Label) })
		name := m.Name()
		if family := m.Family(); family != "" {
			name = b.Say("site.of family", "model", name, "family", family)
		}
		table.Add(name, b.stood(m), strings.Join(labels, ", "),
			some(len(m.Prototypes)), some(len(m.Rods)), some(len(m.Repairs)), some(len(m.Heard)))
	}
	n := b.year.Counts()
	var total []document.Text
	for _, cell := range []string{
		b.say("numbers.total"), "", some(n.Releases), some(n.Prototypes), some(n.Rods), some(n.Repairs), some(n.Remarks),
	} {
		total = append(total, document.Bold(cell))
	}
	table.Rows = append(table.Rows, total)
	return table
}

// some is a number, and nothing for none.
func some(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// stood says how a model stood when the year ended.
func (b *book) stood(m *catalogue.ModelYear) string {
	switch {
	case m.Stood == nil && m.UnderWay != nil:
		return b.say("stood.draft")
	case m.Stood == nil:
		return b.say("stood.gone")
	}
	return b.say("stood."+standing(m), "label", m.Label)
}

// standing is how a model stood that was there, by the last step of its sentences' paths.
func standing(m *catalogue.ModelYear) string {
	switch {
	case m.Stood.Fault() != nil:
		return "unread"
	case m.Label == "":
		return "prototype"
	case m.Ahead:
		return "and prototype"
	}
	return "on sale"
}
