package story

import (
	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// rod says what the rod is for and what it has become.
func (t *tale) rod() ([]document.Block, error) {
	pic, err := t.pen.Rod(t.spec())
	if err != nil {
		return nil, err
	}
	blocks := []document.Block{document.Paragraph(telling.Plain(t.about(t.spec()))), t.figure(pic)}
	if t.whole == nil {
		return blocks, nil
	}
	nothing := "rod.untold"
	if telling.Unnoticed(t.whole.Step, telling.Effects) {
		nothing = "rod.nothing"
	}
	become := []document.Block{t.Paragraph(nothing, "first", t.first().name, "last", t.last().name)}
	done := t.Done(t.whole.Step, summary)
	if len(done) == 0 {
		done = t.Seen(t.whole.Step)
	}
	if len(done) > 0 {
		become = []document.Block{t.Paragraph("rod.become", "first", t.first().name, "last", t.last().name), telling.Bullets(done)}
	}
	timeline := t.half.Timeline(pages.Main, t.dated())
	return append(blocks, document.Beside{Left: become, Right: []document.Block{t.figure(timeline)}}), nil
}

// dated are the figures of all chapters for a picture.
func (t *tale) dated() []pages.Dated {
	var list []pages.Dated
	for _, c := range t.chapters {
		list = append(list, pages.Dated{Label: c.name, Figures: c.Figures, Shifts: c.Shifts})
	}
	return list
}

// summary are the figures that tell the whole way from the first release to the
// last.
var summary = figures.Keys(figures.Compared | figures.Trade)

// about says what a rod is, in a few sentences.
func (t *tale) about(s *models.Spec) string {
	var said []string
	if s.Job.Text != "" {
		said = append(said, t.Say("rod.job", "job", s.Job.Text))
	}
	said = append(said, t.Count("rod.build", len(s.Sections),
		"length", t.Written(s.Length.Text), "reel", t.Say("reels."+string(s.Reel.Kind))))
	if s.Casts.Text != "" {
		said = append(said, t.Say("rod.casts", "casts", t.Written(s.Casts.Text)))
	}
	if s.Line.Diameter.Set() && s.Line.Breaks.Set() {
		said = append(said, t.Say("rod.line", "diameter", t.Written(s.Line.Diameter.Text), "breaks", t.Written(s.Line.Breaks.Text)))
	}
	return sentences(said)
}
