package story

import (
	"slices"

	"rodlore/catalogue"
	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/diffing"
)

// workshop is what is the workshop's own to know of a release: why each of its
// revisions was made, every edit and what it did, and what customers said.
func (t *tale) workshop(c *chapter) (details []document.Block) {
	for _, rev := range c.between {
		details = append(details, t.Reason(rev))
	}
	for _, table := range []document.Table{t.Edits(c.Step), t.Sights(c.Step)} {
		if len(table.Rows) > 0 {
			details = append(details, table)
		}
	}
	details = append(details, t.shares(c)...)
	if spent := t.Done(c.Step, []string{"parts-cost", "bench-time", "load-limit"}); len(spent) > 0 {
		details = append(details, telling.Bullets(spent))
	}
	if len(c.heard) > 0 {
		details = append(details, document.Paragraph(document.Bold(t.Say("workshop.heard"))))
	}
	for _, remark := range c.heard {
		details = append(details, telling.Remark(remark))
	}
	return details
}

// shared are the figures of which it is drawn what every edit did to them.
var shared = [2]string{"weight", "recovery"}

// shares draws which edit of a release did what. One edit alone did everything,
// and of figures that did not change there is nothing to share out.
func (t *tale) shares(c *chapter) []document.Block {
	if c.Against == nil || len(slices.DeleteFunc(diffing.Edits(c.Changes), diffing.Edit.Silent)) < 2 {
		return nil
	}
	shares, err := t.source.Shares(t.ctx, c.Against, c.Revision)
	if err != nil {
		return []document.Block{t.Paragraph("workshop.no shares", "why", catalogue.FirstFault(err).Error())}
	}
	var drawn []document.Block
	for _, key := range shared {
		if s, ok := telling.Shift(c.Step, key); ok && t.Shows(s) {
			parts := say.Each(shares.List, func(edit diffing.Share) pages.Part {
				return pages.Part{Name: t.Group(edit.Group), Size: edit.Figures[key]}
			})
			drawn = append(drawn, t.figure(t.half.Waterfall(c.Against.Label(), c.name, s, parts)))
		}
	}
	if len(drawn) == len(shared) {
		drawn = []document.Block{beside(drawn[0], drawn[1])}
	}
	return drawn
}
