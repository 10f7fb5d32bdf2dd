package story

import (
	"slices"
	"strconv"

	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/models"
)

// opening is what is seen first: the rod then and now, and in three sentences what
// is gone, what that did and what stayed.
func (t *tale) opening() ([]document.Block, error) {
	about := t.Paragraph("rod.job", "job", t.spec().Job.Text)
	if t.spec().Job.Text == "" {
		about = document.Paragraph(telling.Plain(t.about(t.spec())))
	}
	if t.whole == nil {
		pic, err := t.pen.Rod(t.spec())
		return append([]document.Block{document.Paragraph(telling.Plain(t.about(t.spec()))), t.figure(pic)}, t.photos...), err
	}
	rods := t.labelled(t.first(), t.last())
	slide, err := t.pen.ThenAndNow("now", rods[0], rods[1])
	if err != nil {
		return nil, err
	}
	t.moving.Slide = &sliding{Label: t.Say("opening.slide", "first", t.first().name, "last", t.last().name), Slide: slide}
	told := t.lead()
	if t.asStrong() != "" {
		told = append(told, t.Say("opening.bends"))
	}
	lead := document.Paragraph{}
	for i, said := range told {
		span := telling.Plain(said)[0]
		span.Bold = true
		lead = append(lead, document.Span{Text: " ", Bold: i == 0}, span)
	}
	scaled, err := t.pen.Rod(t.spec())
	if err != nil {
		return nil, err
	}
	blocks := []document.Block{lead[1:], t.figure(slide.Picture), about}
	if !t.Print { // else beside the casts, where there is room
		blocks = append(blocks, t.photos...)
	}
	return append(blocks, t.fold(t.Say("opening.drawn", "last", t.last().name),
		document.Paragraph(telling.Plain(t.about(t.spec()))), t.figure(scaled))...), nil
}

// lead says what is gone, what that did and what stayed, each in a sentence and only
// as far as it is certain.
func (t *tale) lead() []string {
	var said []string
	if i := slices.IndexFunc(t.whole.Sights(), func(s diffing.Sight) bool { return s.Aspect == diffing.RingCount }); i >= 0 {
		said = append(said, t.Sight(t.whole.Sights()[i]))
	} else if seen := t.Seen(t.whole.Step); len(seen) > 0 {
		said = append(said, seen[0])
	}
	if did := t.clauses(); len(did) > 0 {
		said = append(said, t.Say("opening.did", "list", t.List(did)))
	}
	if lasting := t.lasting(); lasting != "" {
		said = append(said, lasting)
	}
	if len(said) > 0 {
		return said
	}
	nothing := "opening.untold"
	if telling.Unnoticed(t.whole.Step) {
		nothing = "opening.nothing"
	}
	return []string{t.Say(nothing, "first", t.first().name, "last", t.last().name)}
}

// lasting says what has stayed, the power before all; "" where nothing is certain.
func (t *tale) lasting() string {
	if t.asStrong() == "design" {
		return t.Say("opening.third-load.design")
	}
	for _, key := range []string{"third-load", "weight", "recovery"} {
		if s, ok := telling.Shift(t.whole.Step, key); ok && s.Answer() == diffing.Same {
			return t.Say("opening." + key + ".same")
		}
	}
	return ""
}

// asStrong is whether the rod has the power that it had: "same" where that holds of
// the rods, "design" where it holds of the two designs, though single rods differ more;
// "" otherwise.
func (t *tale) asStrong() string {
	s, ok := telling.Shift(t.whole.Step, "third-load")
	if _, alone := telling.CurveAlone(t.whole.Step); !ok || alone {
		return ""
	}
	switch answer := s.Answer(); {
	case answer == diffing.Same:
		return "same"
	case answer == diffing.Open && designedAlike(s):
		return "design"
	}
	return ""
}

// designedAlike reports whether two designs are alike in a figure by half of what an
// angler notices, however rods differ that are built to them.
func designedAlike(s diffing.Shift) bool { return max(s.Change, -s.Change)+s.Error < s.Noticed/2 }

// clauses are the few things that a rod does otherwise than at first, in the order
// in which a hand feels them; of what nobody would feel it is told further down.
func (t *tale) clauses() []string {
	const most = 3
	var said []string
	for _, key := range []string{"weight", "recovery", "third-load", "flat-turn", "swing"} {
		s, ok := telling.Shift(t.whole.Step, key)
		if ok && t.Felt(s) && !s.ByDesign() && !s.Within() && len(said) < most {
			size := max(s.Change, -s.Change)
			said = append(said, t.Say("opening."+key+"."+say.Way(s),
				"change", t.Supported(s.Key, s.Unit, size, max(s.Tolerance(), size/10)), // as one would say it
				"percent", strconv.Itoa(int(max(s.Percent(), -s.Percent())+0.5))))
		}
	}
	return said
}

// dated are the figures of all chapters for a picture.
func (t *tale) dated() []pages.Dated {
	return say.Each(t.chapters, func(c *chapter) pages.Dated { return pages.Dated{Label: c.name, Figures: c.Figures, Shifts: c.Shifts} })
}

// about says what a rod is, in a few sentences.
func (t *tale) about(s *models.Spec) string {
	var said []string
	if s.Job.Text != "" {
		said = append(said, t.Say("rod.job", "job", s.Job.Text))
	}
	said = append(said, t.Count("rod.build", s.Pieces(),
		"length", t.Written(s.Length.Quantity()), "reel", t.Say("reels."+string(s.Reel.Kind))))
	if top := s.Sections[len(s.Sections)-1]; len(top.Solid) > 0 && len(s.Joints) > 0 {
		said = append(said, t.Say("rod.solid tip", "material", top.Material.Text, "length", t.Value("", "m", s.JointSpans()[len(s.Joints)-1].From)))
	}
	if s.Casts.Text != "" {
		said = append(said, t.Say("rod.casts", "casts", t.Casts(s.Casts)))
	}
	if s.Line.Class > 0 {
		said = append(said, t.Say("rod.line class", "class", strconv.Itoa(s.Line.Class)))
	}
	if !s.ForFly() && s.Line.Diameter.Set() && s.Line.Breaks.Set() {
		said = append(said, t.Say("rod.line", "diameter", t.Written(s.Line.Diameter.Quantity()), "breaks", t.Written(s.Line.Breaks.Quantity())))
	}
	return sentences(said)
}
