package story

import (
	"math"
	"slices"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/words"
	"rodlore/diffing"
)

// releases tells release by release what changed, why, and what it did.
func (t *tale) releases() ([]document.Block, error) {
	blocks := []document.Block{t.heading(2, "releases.heading")}
	if t.whole != nil {
		pictures, err := t.overview()
		if err != nil {
			return nil, err
		}
		blocks = append(append(blocks, t.paragraph("releases.intro")), pictures...)
	}
	for _, text := range t.workshopOnly(t.unread) {
		blocks = append(blocks, document.Paragraph(plain(text)))
	}
	for _, c := range t.chapters {
		blocks = append(blocks, document.Heading{Level: 3, Text: c.name, ID: "release-" + c.ShortID()})
		blocks = append(blocks, t.chapter(c)...)
		if c.page != "" {
			beside := t.Say("releases.beside", "old", c.Against.Label(), "new", c.name)
			blocks = append(blocks, document.Paragraph{{Text: beside, Link: link(c.page)}})
		}
	}
	return blocks, nil
}

// overview draws all releases: where their rings stood, and the rods below one
// another.
func (t *tale) overview() ([]document.Block, error) {
	rods := t.labelled(t.chapters...)
	stack, err := t.pen.Stack(rods)
	if err != nil {
		return nil, err
	}
	trails := t.figure(t.pen.RingTrails(rods), t.Say("releases.trails"))
	return t.sideBySide(trails, t.figure(stack, t.Say("releases.stack"))), nil
}

// labelled are the rods of chapters for a picture.
func (t *tale) labelled(chapters ...*chapter) []pages.Labelled {
	var rods []pages.Labelled
	for _, c := range chapters {
		rods = append(rods, pages.Labelled{Label: c.name, Spec: c.Spec})
	}
	return rods
}

// workshopOnly are texts that customers do not get.
func (t *tale) workshopOnly(texts []string) []string {
	if t.Reader != Workshop {
		return nil
	}
	return texts
}

func (t *tale) chapter(c *chapter) []document.Block {
	var blocks []document.Block
	if c.Tell != "" {
		blocks = append(blocks, document.Quote(plain(reflow(c.Tell))))
	}
	if c.Against == nil {
		blocks = append(blocks, document.Paragraph(plain(t.begin(c))))
	} else {
		blocks = append(blocks, t.changes(c)...)
	}
	if t.Reader == Workshop {
		blocks = append(blocks, t.workshop(c)...)
	}
	return blocks
}

// reflow puts what was written over several lines into one.
func reflow(text string) string { return strings.Join(strings.Fields(text), " ") }

// begin says what the first release was.
func (t *tale) begin(c *chapter) string {
	said := []string{t.Say("releases.begin")}
	for _, key := range summary {
		if f, ok := c.Figures.Get(key); ok {
			said = append(said, t.Meaning(key, t.Supported(key, f.Unit, f.Value, f.Tolerance)))
		}
	}
	return sentences(said)
}

// changes says what a customer sees and feels of a release.
func (t *tale) changes(c *chapter) []document.Block {
	left := t.listed("releases.seen", "releases.nothing seen", t.seen(c))
	if made := t.made(c); len(made) > 0 {
		left = append(left, t.listed("releases.made", "", made)...)
	}
	right := t.listed("releases.done", "releases.nothing done", t.done(c, effects))
	if same := t.same(c); len(same) > 0 {
		right = append(right, document.Paragraph(plain(sentences(append([]string{t.Say("releases.same")}, same...)))))
	}
	return []document.Block{document.Beside{Left: left, Right: right}}
}

// listed is a list under its head, or what is said where it is empty.
func (t *tale) listed(head, none string, items []string) []document.Block {
	if len(items) == 0 {
		return []document.Block{t.paragraph(none)}
	}
	return []document.Block{document.Paragraph(document.Bold(t.Say(head))), bullets(items)}
}

// effects are the figures by which a customer is told what a release did.
var effects = []string{
	"weight", "balance-with-reel", "balance", "swing", "third-load", "recovery", "settle", "half-turn",
	"flat-turn", "cast-share", "line-touch", "line-gap", "ring-load-worst", "line-angle-sum",
}

// constants are the figures that a customer is told of where they stayed.
var constants = []string{"weight", "third-load", "recovery", "flat-turn"}

// done says what became of some figures, as far as it is real.
func (t *tale) done(c *chapter, keys []string) []string {
	var said []string
	for _, key := range keys {
		if key == "balance" && c.has("balance-with-reel") { // the same said twice
			continue
		}
		if s, ok := c.shift(key); ok && t.Felt(s) {
			said = append(said, t.Shift(s))
		}
	}
	return said
}

// same says which of the figures that matter stayed.
func (t *tale) same(c *chapter) []string {
	var said []string
	for _, key := range constants {
		if s, ok := c.shift(key); ok && words.DirectionOf(s) == words.Same {
			said = append(said, t.Shift(s))
		}
	}
	return said
}

// shift is what became of a figure that both sides have.
func (c *chapter) shift(key string) (diffing.Shift, bool) {
	i := slices.IndexFunc(c.Shifts, func(s diffing.Shift) bool { return s.Key == key && s.Both() })
	if i < 0 {
		return diffing.Shift{}, false
	}
	return c.Shifts[i], true
}

func (c *chapter) has(key string) bool { _, ok := c.shift(key); return ok }

// seen says what a customer sees changed on the rack.
func (t *tale) seen(c *chapter) []string {
	var said []string
	for _, s := range c.Sights {
		said = append(said, t.sight(s))
	}
	return said
}

// sight says one thing that is seen changed: by how many, by how much, or from
// what to what.
func (t *tale) sight(s diffing.Sight) string {
	path := "sights." + string(s.Aspect)
	direction := ".up"
	if s.Size < 0 {
		direction = ".down"
	}
	switch {
	case t.Has(path):
		return t.Say(path, "old", s.Old, "new", s.New)
	case t.Has(path + direction):
		return t.Say(path+direction, "old", s.Old, "new", s.New, "by", strings.TrimLeft(s.By, "+−"))
	}
	return t.Count(path+direction, int(math.Abs(s.Size)))
}

// made says what was made otherwise and is not seen.
func (t *tale) made(c *chapter) []string {
	var said []string
	for _, e := range diffing.Edits(c.Changes) {
		if text := t.edit(c, e); text != "" {
			said = append(said, text)
		}
	}
	return said
}

// edit says what one group of edits is about; "" where that is seen already or
// no matter of the rod.
func (t *tale) edit(c *chapter, e diffing.Edit) string {
	switch e.Group {
	case diffing.RingPattern:
		return t.counted("edits.ring pattern", e, func(ch diffing.Change) bool { return ch.Kind == diffing.Moved })
	case diffing.RingParts:
		return t.counted("edits.ring parts", e, func(ch diffing.Change) bool { return ch.Kind == diffing.Altered })
	case diffing.Joints:
		if c.sees(diffing.JointKind) {
			return ""
		}
		return t.Say("edits.joint")
	case diffing.Finish:
		return t.Say("edits.finish")
	}
	if section, ok := strings.CutPrefix(string(e.Group), "blank of "); ok {
		return t.Say("edits.blank", "section", section)
	}
	if part, ok := strings.CutPrefix(string(e.Group), "shared "); ok {
		return t.Say("edits.part", "part", part)
	}
	return ""
}

// counted says how many changes of an edit are of one kind.
func (t *tale) counted(path string, e diffing.Edit, is func(diffing.Change) bool) string {
	n := 0
	for _, c := range e.Changes {
		if is(c) {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return t.Count(path, n)
}

func (c *chapter) sees(a diffing.Aspect) bool {
	return slices.ContainsFunc(c.Sights, func(s diffing.Sight) bool { return s.Aspect == a })
}

// workshop is what is the workshop's own to know of a release: why each of its
// revisions was made, and every edit.
func (t *tale) workshop(c *chapter) []document.Block {
	details := document.Details{Summary: t.Say("workshop.heading", "release", c.name)}
	for _, rev := range c.between {
		details.Blocks = append(details.Blocks, t.reason(rev))
	}
	if edits := diffing.Edits(c.Changes); len(edits) > 0 {
		table := document.Table{Caption: t.Say("workshop.edits"), Columns: []document.Column{{Head: t.Say("workshop.edit")}, {Head: t.Say("workshop.what")}}}
		for _, e := range edits {
			table.Add(string(e.Group), diffing.Summary(e.Changes, 0))
		}
		details.Blocks = append(details.Blocks, table)
	}
	if steps := t.stepTable(c); len(steps.Rows) > 0 {
		details.Blocks = append(details.Blocks, steps)
	}
	if spent := t.done(c, []string{"parts-cost", "bench-time", "load-limit"}); len(spent) > 0 {
		details.Blocks = append(details.Blocks, bullets(spent))
	}
	if len(c.heard) > 0 {
		details.Blocks = append(details.Blocks, document.Paragraph(document.Bold(t.Say("workshop.heard"))))
		for _, remark := range c.heard {
			details.Blocks = append(details.Blocks, document.Quote{{Text: remark.Date.Text, Bold: true}, {Text: " " + reflow(remark.Said.Text)}})
		}
	}
	return []document.Block{details}
}

// reason says why a revision was made.
func (t *tale) reason(rev *catalogue.Revision) document.Block {
	why := reflow(rev.Why)
	if rev.Fault != nil {
		why = t.Say("workshop.fault", "why", why, "fault", firstLine(rev.Fault))
	}
	return document.Paragraph{{Text: rev.Day(), Bold: true}, {Text: " " + why}}
}

// stepTable holds what is seen against the limits for one release.
func (t *tale) stepTable(c *chapter) document.Table {
	table := document.Table{Caption: t.Say("workshop.steps"), Columns: []document.Column{
		{Head: t.Say("workshop.seen")}, {Head: t.Say("workshop.was")}, {Head: t.Say("workshop.is")},
		{Head: t.Say("workshop.by"), Right: true}, {Head: t.Say("workshop.limit"), Right: true}, {Head: t.Say("workshop.within")},
	}}
	for _, s := range c.Sights {
		within := t.Say("workshop.yes")
		switch {
		case s.Over():
			within = t.Say("workshop.no")
		case math.IsInf(s.Limit, 1):
			within = ""
		}
		table.Add(string(s.Aspect), s.Old, s.New, s.By, s.Most, within)
	}
	return table
}

// sentences puts sentences behind each other.
func sentences(said []string) string { return strings.Join(said, " ") }
