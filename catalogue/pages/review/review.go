package review

import (
	"math"
	"slices"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/diffing"
)

// Options say how a review is laid out.
type Options struct {
	Day time.Time // of the review
	// Word puts what speaks against the rod into words, with a hint where there is
	// one.
	Word func(catalogue.Reason) string
}

// Page is what there is to say of a revision before it goes on sale, for the
// screen and the workshop wall.
func Page(t say.Teller, v *catalogue.Review, o Options) *document.Document {
	p := page{telling.Teller{Teller: t}, v, o}
	title, reviewed := t.Title(v.Revision), o.Day.Format(time.DateOnly)
	doc := &document.Document{
		Title: title, Subtitle: p.say("subtitle", "day", reviewed), Date: o.Day, Language: t.Language(),
		Footer: p.say("footer", "title", title, "day", reviewed),
	}
	add := func(heading string, blocks ...document.Block) {
		if len(blocks) > 0 {
			doc.Blocks = append(append(doc.Blocks, document.Heading{Level: 2, Text: heading}), blocks...)
		}
	}
	add(p.say("verdict.heading", "verdict", t.Verdict(v.Verdict())), p.verdict()...)
	add(p.say("wants.heading"), p.wants()...)
	add(p.say("since.heading"), p.since()...)
	add(t.Say("words.heading"), p.Beside(v.Tell, v.Since)...)
	add(p.say("strength.heading"), p.strength()...)
	add(p.say("line.heading"), p.line()...)
	for _, of := range v.Tops {
		add(p.say("top.heading", "top", of.Top), page{p.Teller, of, o}.top()...)
	}
	add(p.say("measured.heading"), p.measured()...)
	add(p.say("by hand.heading"), p.byHand()...)
	return doc
}

// page is a review being laid out.
type page struct {
	telling.Teller
	*catalogue.Review
	Options
}

func (p page) say(path string, pairs ...string) string { return p.Say("review."+path, pairs...) }

func (p page) paragraph(path string, pairs ...string) document.Block {
	return document.Paragraph(document.Plain(p.say(path, pairs...)))
}

// table is an empty one; its caption and the heads of its columns stand at paths
// below one of its own.
func (p page) table(path string, heads ...string) document.Table {
	return document.Table{Caption: p.say(path + ".table"), Columns: p.Columns("review."+path, heads...)}
}

func (p page) verdict() []document.Block {
	if len(p.Reasons) == 0 {
		return []document.Block{p.paragraph("verdict.none")}
	}
	t := p.table("verdict", "", "")
	for _, r := range p.Reasons {
		t.Add(p.Gravity(r), p.Word(r))
	}
	return []document.Block{t}
}

func (p page) wants() []document.Block {
	if len(p.Wants) == 0 {
		return nil
	}
	t := p.table("wants", "figure", "wanted", ">value", ">rods")
	for _, w := range p.Wants {
		is := p.say("wants.no figure")
		if f, ok := p.Figures.Get(w.Figure); ok {
			is = p.Single(f.Key).WithTolerance(f.Key, f.Unit, f.Value, f.Tolerance)
		}
		t.Add(p.Name(w.Figure), p.Want(w.Want), is, p.Rods(w))
	}
	return []document.Block{t}
}

// top is what there is to say of a rod with another top.
func (p page) top() []document.Block {
	since := []document.Block{p.paragraph("top.first")}
	if p.Since != nil {
		since = p.since()
	}
	strength := p.strength() // whose caution stands above already
	return slices.Concat(p.wants(), since, strength[:min(len(strength), 1)], p.line())
}

// since holds it against the last release: what customers see, and what became of
// the figures.
func (p page) since() []document.Block {
	if p.Since == nil {
		return []document.Block{p.paragraph("since.first")}
	}
	last := p.Since.Against.Label()
	blocks := []document.Block{p.paragraph("since.unseen", "label", last)}
	if len(p.Review.Sights()) > 0 {
		blocks = []document.Block{p.sights(last)}
	}
	t := p.table("since", "figure", ">", ">now", ">change")
	t.Columns[1].Head = last
	for _, s := range p.Since.Shifts {
		d := p.Single(s.Key)
		if s.Answer() != diffing.Changed || !d.Shows(s.Key, s.Unit, s.Change, s.New.Value) {
			continue
		}
		d = d.Alike(s.Old.Value, s.New.Value)
		change := d.ChangeWithTolerance(s.Key, s.Unit, s.Change, s.New.Value, s.Tolerance())
		if s.ByDesign() {
			change = p.Say("lists.more", "list", change, "next", p.Often(s))
		}
		t.Add(p.Name(s.Key), d.Value(s.Key, s.Unit, s.Old.Value), d.Value(s.Key, s.Unit, s.New.Value), change)
	}
	if len(t.Rows) == 0 {
		blocks = append(blocks, p.paragraph("since.nothing"))
	} else {
		blocks = append(blocks, t)
	}
	return append(blocks, p.unchanged()...)
}

// unchanged are the figures that are the same, and those of which the numbers
// cannot tell, with what would decide it.
func (p page) unchanged() (blocks []document.Block) {
	var same []string
	for _, s := range p.Since.Shifts {
		if s.Answer() == diffing.Same {
			same = append(same, p.Name(s.Key))
		}
	}
	if len(same) > 0 {
		blocks = append(blocks, p.paragraph("since.same", "figures", p.List(same)))
	}
	if open := p.Open(p.Since.Shifts); len(open.Rows) > 0 {
		blocks = append(blocks, open)
	}
	return blocks
}

// sights holds what a customer sees changed against the limits of a release.
func (p page) sights(last string) document.Table {
	t := document.Table{Caption: p.say("sights.table", "label", last), Columns: []document.Column{
		{Head: p.say("sights.seen")}, {Head: p.say("sights.from", "label", last)}, {Head: p.say("sights.by"), Right: true}, {Head: p.say("sights.limit")}, {},
	}}
	for _, s := range p.Review.Sights() {
		limit, over := p.Limit(s), ""
		if limit != "" && !s.Own {
			limit = p.say("sights.usual", "limit", limit)
		}
		if s.Over() {
			over = p.say("sights.over")
		}
		t.Add(p.Aspect(s.Aspect), p.FromTo(s), p.By(s), limit, over)
	}
	return t
}

func (p page) strength() []document.Block {
	if p.Limits == nil {
		return nil // the reasons say why
	}
	t := p.table("strength", "", ">")
	value := func(unit string, value float64) string { return p.Value("", unit, value) }
	for _, key := range []string{"test-curve", "load-limit", "strain-worst"} {
		if f, ok := p.Figures.Get(key); ok {
			t.Add(p.Name(key), p.LimitOf(p.WithTolerance(key, f.Unit, f.Value, f.Tolerance), f.Weakest))
		}
	}
	low := p.Limits.Lifts[0]
	t.Add(p.say("strength.held", "angle", value("rad", low.Angle)), value("N", low.Pull))
	t.Add(p.say("strength.fails"), p.say("strength.by."+string(low.By)))
	t.Add(p.say("strength.where"), value("m", low.At))
	if p.Limits.Line > 0 {
		t.Add(p.say("strength.breaks"), value("N", p.Limits.Line))
		angle := p.say("strength.never")
		if !math.IsNaN(p.Limits.LineAngle) {
			angle = value("rad", p.Limits.LineAngle)
		}
		t.Add(p.say("strength.reaches"), angle)
	}
	return []document.Block{t, document.Caution{Title: p.Say("cautions.limits.title"), Text: document.Plain(p.Say("cautions.limits.text"))}}
}

// linePath are the figures of the line's path.
var linePath = []string{"line-touch", "line-gap", "ring-turn-spread", "ring-load-worst", "line-angle-sum"}

func (p page) line() []document.Block {
	t := p.table("line", "", ">", "")
	for _, key := range linePath {
		if f, ok := p.Figures.Get(key); ok {
			t.Add(p.Name(key), p.WithTolerance(key, f.Unit, f.Value, f.Tolerance), p.sinceThen(key))
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []document.Block{t}
}

// sinceThen is the change of a figure since the last release, in a few
// words; "" where there is none.
func (p page) sinceThen(key string) string {
	if p.Since == nil {
		return ""
	}
	s, ok := telling.Shift(p.Since, key)
	if !ok || s.Answer() != diffing.Changed || !p.Display.Shows(s.Key, s.Unit, s.Change, s.New.Value) {
		return ""
	}
	return p.say("line.since", "change", p.Change(s.Key, s.Unit, s.Change, s.New.Value), "label", p.Since.Against.Label())
}

func (p page) measured() []document.Block {
	if len(p.Review.Measured.List) == 0 {
		return nil
	}
	return []document.Block{p.Teller.Measured(p.Figures, p.Review.Measured), p.paragraph("measured.how")}
}

// byHand lists what is still to be checked by hand, with boxes for paper, and what
// was ticked.
func (p page) byHand() []document.Block {
	var open document.Checklist
	var done document.List
	for _, c := range p.ByHand {
		text := document.Bold(c.Check.Text)
		if c.Look.Text != "" {
			text = append(text, document.Plain(": "+c.Look.Text)...)
		}
		if c.Tick == nil {
			open.Items = append(open.Items, text)
		} else {
			done.Items = append(done.Items, append(text, document.Plain(" ("+c.Tick.By.Text+", "+c.Tick.Date.Text+")")...))
		}
	}
	var blocks []document.Block
	if len(open.Items) > 0 {
		blocks = append(blocks, p.paragraph("by hand.open"), open)
	}
	if len(done.Items) > 0 {
		blocks = append(blocks, p.paragraph("by hand.ticked"), done)
	}
	return blocks
}
