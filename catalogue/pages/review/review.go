// Package review lays out the review of a revision before it goes on sale.
package review

import (
	"fmt"
	"math"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate/figures"
)

// Page is what there is to say of a revision before it goes on sale, for the
// screen and the workshop wall. title names the revision.
func Page(v *catalogue.Review, title string, day time.Time) *document.Document {
	doc := &document.Document{
		Title: title, Subtitle: "Reviewed on " + day.Format(time.DateOnly), Date: day,
		Footer: title + ", reviewed on " + day.Format(time.DateOnly),
	}
	add := func(heading string, blocks ...document.Block) {
		if len(blocks) > 0 {
			doc.Blocks = append(append(doc.Blocks, document.Heading{Level: 2, Text: heading}), blocks...)
		}
	}
	add("Verdict: "+string(v.Verdict()), verdictBlocks(v)...)
	add("What it must do", wantBlocks(v)...)
	add("Since the last release", sinceBlocks(v)...)
	add("Strength", strengthBlocks(v)...)
	add("The line's path", lineBlocks(v)...)
	add("Measured", measuredBlocks(v)...)
	add("By hand", handBlocks(v)...)
	return doc
}

func paragraph(format string, args ...any) document.Paragraph {
	return document.Paragraph(document.Plain(fmt.Sprintf(format, args...)))
}

// Gravity is the word in front of a reason.
func Gravity(r catalogue.Reason) string {
	if r.Grave {
		return "against it"
	}
	return "reservation"
}

func verdictBlocks(v *catalogue.Review) []document.Block {
	if len(v.Reasons) == 0 {
		return []document.Block{paragraph("Nothing speaks against putting it on sale.")}
	}
	t := document.Table{Caption: "What speaks against it", Columns: []document.Column{{}, {}}}
	for _, r := range v.Reasons {
		t.Add(Gravity(r), r.Text)
	}
	return []document.Block{t}
}

func wantBlocks(v *catalogue.Review) []document.Block {
	if len(v.Wants) == 0 {
		return nil
	}
	t := document.Table{Caption: "Its wants, and how many of the rods built to this spec meet them", Columns: []document.Column{
		{Head: "figure"}, {Head: "wanted"}, {Head: "it is", Right: true}, {Head: "rods that would do", Right: true},
	}}
	for _, w := range v.Wants {
		is := "no such figure"
		if f, ok := v.Figures.Get(w.Figure); ok {
			is = v.Display.Single(f.Key).WithTolerance(f.Key, f.Unit, f.Value, f.Tolerance)
		}
		t.Add(figures.Short(w.Figure), w.Text, is, w.Rods())
	}
	return []document.Block{t}
}

// sinceBlocks hold it against the last release: what customers see, and which
// figures changed by more than rods of one revision differ.
func sinceBlocks(v *catalogue.Review) []document.Block {
	if v.Since == nil {
		return []document.Block{paragraph("There is no earlier release: no customer knows another one.")}
	}
	last := v.Since.Against.Label()
	blocks := []document.Block{paragraph("Beside %s a customer sees no change.", last)}
	if len(v.Sights()) > 0 {
		blocks = []document.Block{sightTable(last, v.Sights())}
	}
	t := document.Table{Caption: "Figures that really changed", Columns: []document.Column{
		{Head: "figure"}, {Head: last, Right: true}, {Head: "now", Right: true}, {Head: "change", Right: true},
	}}
	for _, s := range v.Since.Shifts {
		d := v.Display.Single(s.Key)
		if s.Real() == diffing.Real && d.Shows(s.Key, s.Unit, s.Change, s.New.Value) {
			t.Add(figures.Short(s.Key), d.Value(s.Key, s.Unit, s.Old.Value), d.Value(s.Key, s.Unit, s.New.Value),
				d.ChangeWithTolerance(s.Key, s.Unit, s.Change, s.New.Value, s.Tolerance()))
		}
	}
	if len(t.Rows) == 0 {
		return append(blocks, paragraph("No figure really changed."))
	}
	return append(blocks, t)
}

// sightTable holds what a customer sees changed against the limits of a release.
func sightTable(last string, sights []diffing.Sight) document.Table {
	t := document.Table{Caption: "What a customer sees beside " + last, Columns: []document.Column{
		{Head: "a customer sees"}, {Head: last + " → now"}, {Head: "change", Right: true}, {Head: "a release"}, {},
	}}
	for _, s := range sights {
		limit, over := s.Most, ""
		if limit != "" && !s.Own {
			limit += ", usual"
		}
		if s.Over() {
			over = "over"
		}
		t.Add(string(s.Aspect), s.Old+" → "+s.New, s.By, limit, over)
	}
	return t
}

func strengthBlocks(v *catalogue.Review) []document.Block {
	if v.Limits == nil {
		return nil // the reasons say why
	}
	t := document.Table{Caption: "Estimates of what it bears", Columns: []document.Column{{}, {Right: true}}}
	value := func(key, unit string, value float64) string { return v.Display.Value(key, unit, value) }
	for _, key := range []string{"test-curve", "load-limit", "strain-worst"} {
		if f, ok := v.Figures.Get(key); ok {
			t.Add(figures.Short(key), v.Display.WithTolerance(key, f.Unit, f.Value, f.Tolerance))
		}
	}
	low := v.Limits.Lifts[0]
	t.Add("limit with the rod held at "+value("", "rad", low.Angle)+" to the line", value("", "N", low.Pull))
	if v.Limits.Line > 0 {
		t.Add("the line breaks at", value("", "N", v.Limits.Line))
		angle := "at no angle looked at"
		if !math.IsNaN(v.Limits.LineAngle) {
			angle = value("", "rad", v.Limits.LineAngle)
		}
		t.Add("it reaches the limit from an angle of", angle)
	}
	return []document.Block{t, document.Caution{Title: say.English().Say("cautions.limits.title"), Text: document.Plain(say.English().Say("cautions.limits.text"))}}
}

// linePath are the figures of the line's path.
var linePath = []string{"line-touch", "line-gap", "ring-turn-spread", "ring-load-worst", "line-angle-sum"}

func lineBlocks(v *catalogue.Review) []document.Block {
	t := document.Table{Caption: "The line through the rings", Columns: []document.Column{{}, {Right: true}, {}}}
	for _, key := range linePath {
		f, ok := v.Figures.Get(key)
		if !ok {
			continue
		}
		t.Add(figures.Short(key), v.Display.WithTolerance(key, f.Unit, f.Value, f.Tolerance), sinceThen(v, key))
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []document.Block{t}
}

// sinceThen is the real change of a figure since the last release, in a few
// words; "" where there is none.
func sinceThen(v *catalogue.Review, key string) string {
	if v.Since == nil {
		return ""
	}
	for _, s := range v.Since.Shifts {
		if s.Key == key && s.Real() == diffing.Real && v.Display.Shows(s.Key, s.Unit, s.Change, s.New.Value) {
			return v.Display.Change(s.Key, s.Unit, s.Change, s.New.Value) + " since " + v.Since.Against.Label()
		}
	}
	return ""
}

func measuredBlocks(v *catalogue.Review) []document.Block {
	if len(v.Measured.List) == 0 {
		return nil
	}
	t := document.Table{Caption: "What was measured of rods of this revision", Columns: []document.Column{
		{Head: "measured"}, {Head: "on the rod", Right: true}, {Head: "worked out", Right: true}, {Head: "off", Right: true}, {Head: "rod"},
	}}
	for _, f := range v.Figures.List {
		for _, m := range v.Measured.Of(f.Key) {
			t.Add(figures.Short(f.Key), v.Display.Single(f.Key).WithTolerance(f.Key, f.Unit, m.Value, m.Deviation),
				v.Display.Single(f.Key).WithTolerance(f.Key, f.Unit, f.Value, f.Tolerance), figures.Deviations(f.Deviations(m.Value, m.Deviation)), catalogue.RodName(m.Rod)+", "+m.Date)
		}
	}
	return []document.Block{t, paragraph("off: in standard deviations of reading and tolerance together")}
}

// handBlocks list what is still to be checked by hand, with boxes for paper, and
// what was ticked.
func handBlocks(v *catalogue.Review) []document.Block {
	var open document.Checklist
	var done document.List
	for _, c := range v.ByHand {
		text := document.Bold(c.Check.Text)
		if c.Look.Text != "" {
			text = append(text, document.Plain(": "+c.Look.Text)...)
		}
		if c.Tick == nil {
			open.Items = append(open.Items, text)
		} else {
			done.Items = append(done.Items, append(text, document.Plain(fmt.Sprintf(" (%s, %s)", c.Tick.By, c.Tick.Date.Text))...))
		}
	}
	var blocks []document.Block
	if len(open.Items) > 0 {
		blocks = append(blocks, paragraph("Still to be looked at, on a rod of this very revision:"), open)
	}
	if len(done.Items) > 0 {
		blocks = append(blocks, paragraph("Ticked:"), done)
	}
	return blocks
}
