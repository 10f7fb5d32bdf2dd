package sheet

import (
	"context"
	"fmt"
	"regexp"
	"slices"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/pages/telling"
	"rodlore/evaluate"
	"rodlore/models"
)

// Options say what is wanted.
type Options struct {
	Serial string         // of the rod; "" leaves a place to write it
	Paper  document.Paper // the zero Paper is A4
	Strip  bool           // the ring strip alone
	Print  bool           // drawn for paper rather than for a screen
	Now    time.Time      // the day of a draft's sheet
}

// Of lays out the build sheet of a revision, by the range's settings, words and
// figures of today.
func Of(ctx context.Context, r *catalogue.Range, rev *catalogue.Revision, o Options) (*document.Document, error) {
	s, err := gather(ctx, r, rev, o)
	if err != nil {
		return nil, err
	}
	return s.document(), nil
}

// sheet is what a sheet is made from.
type sheet struct {
	telling.Teller
	Options
	rev      *catalogue.Revision
	spec     *models.Spec
	set      *models.Settings
	outline  *evaluate.Outline
	figures  *evaluate.Figures
	side     *drawing.Picture  // the rod to scale
	measured map[string]string // of the rod with that serial number, by the figures
}

func gather(ctx context.Context, r *catalogue.Range, rev *catalogue.Revision, o Options) (*sheet, error) {
	s := &sheet{Options: o, rev: rev, spec: rev.Spec()}
	var err error
	if s.figures, err = r.FiguresWithTolerances(ctx, rev); err != nil {
		return nil, err
	}
	if s.set, err = r.Settings(); err != nil {
		return nil, err
	}
	if s.Teller, err = telling.New(r); err != nil {
		return nil, err
	}
	if s.outline, err = evaluate.New(s.spec, s.set).Outline(); err != nil {
		return nil, err
	}
	pen := pages.Screen(s.Words, s.set)
	if o.Print {
		pen = pages.Print(s.Words, s.set)
	}
	if s.side, err = pen.Standard().Rod(s.spec); err != nil {
		return nil, err
	}
	s.measured, err = s.readings(r)
	return s, err
}

// document puts the parts of the sheet together.
func (s *sheet) document() *document.Document {
	d := &document.Document{
		Title:    s.Say("sheet.title", "model", s.spec.Name.Text),
		Subtitle: s.Say("sheet.subtitle", "maker", s.set.Maker.Text, "standing", s.standing()),
		Author:   s.set.Maker.Text, Language: s.Language(), Date: s.rev.When, Paper: s.paper(),
		Footer: s.Say("sheet.footer", "model", s.spec.Name.Text, "standing", s.standing()),
		Number: func(page, pages int) string {
			return s.Say("sheet.number", "page", fmt.Sprint(page), "pages", fmt.Sprint(pages))
		},
	}
	if d.Date.IsZero() {
		d.Date = s.Now
	}
	if s.Strip {
		d.Title = s.Say("sheet.strip title", "model", s.spec.Name.Text)
		d.Blocks = s.strip()
		return d
	}
	for _, part := range [][]document.Block{
		s.warning(), s.tops(), {s.titleBlock(d.Date)}, {document.Figure{Picture: s.side}}, s.rings(),
		s.build(),
		beside(0.55, s.measures(), s.materials()),
		s.work(), s.cautions(), s.strip(),
	} {
		d.Blocks = append(d.Blocks, part...)
	}
	holdUnits(d.Blocks)
	return d
}

// titleBlock says what the sheet is of, as the corner of a drawing does.
func (s *sheet) titleBlock(date time.Time) document.Block {
	t := document.Table{Columns: s.Columns("sheet.title block", "model", "standing", "date", "revision", "rod", "tolerances")}
	standing := s.Labels(s.rev)
	if s.rev.Status != catalogue.Released {
		standing = s.Say("sheet.title block." + string(s.rev.Status))
	}
	t.Columns[4].Blank = s.Serial == ""
	// Two standard deviations, as of what the rod should measure.
	own, all, usual := s.spec.Tolerances, s.set.Tolerances, models.DefaultSettings().Tolerances
	places := own.RingPosition.Or(all.RingPosition.Or(usual.RingPosition.Value))
	whippings := own.Whipping.Or(all.Whipping.Or(usual.Whipping.Value))
	t.Add(s.spec.Name.Text, standing, date.Format(time.DateOnly), s.rev.ShortID(), s.Serial, s.Say("sheet.title block.limits",
		"places", s.length(2*float64(places)), "whippings", s.length(2*float64(whippings))))
	return t
}

var unit = regexp.MustCompile(`(\d) (\pL|°)`)

// holdUnits keeps a number in a table on the line of its unit.
func holdUnits(blocks []document.Block) {
	for _, b := range blocks {
		switch b := b.(type) {
		case document.Beside:
			holdUnits(b.Left)
			holdUnits(b.Right)
		case document.Table:
			for _, row := range b.Rows {
				for _, cell := range row {
					for i := range cell {
						cell[i].Text = unit.ReplaceAllString(cell[i].Text, "$1\u00a0$2")
					}
				}
			}
		}
	}
}

// build is handle, joints and blank: handle and blank beside each other as long as the
// sections are few. The table of joints takes the whole width.
func (s *sheet) build() []document.Block {
	if len(s.spec.Sections) > 2 {
		return slices.Concat(s.handle(), s.joints(), s.blank(2))
	}
	return append(beside(0.66, s.handle(), s.blank(1)), s.joints()...)
}

// beside is two columns, the left one of that share of the width.
func beside(share float64, left, right []document.Block) []document.Block {
	return []document.Block{document.Beside{Left: left, Right: right, Share: share}}
}

func (s *sheet) paper() document.Paper {
	if s.Paper == (document.Paper{}) {
		return document.A4
	}
	return s.Paper
}

// standing says which revision it is, and which rod.
func (s *sheet) standing() string {
	text := s.revision()
	if s.Serial != "" {
		text = s.Say("lists.more", "list", text, "next", s.Say("sheet.rod", "serial", s.Serial))
	}
	return text
}

func (s *sheet) revision() string {
	switch id := s.rev.ShortID(); s.rev.Status {
	case catalogue.Released:
		return s.Count("sheet.released", len(s.rev.Labels), "label", s.Labels(s.rev), "date", s.rev.Day(), "id", id)
	case catalogue.Prototype:
		return s.Say("sheet.prototype", "date", s.rev.Day(), "id", id)
	default:
		return s.Say("sheet.draft", "id", id)
	}
}

// warning tells a sheet of what is not on sale apart.
func (s *sheet) warning() []document.Block {
	if s.rev.Status == catalogue.Released {
		return nil
	}
	return []document.Block{document.Caution{
		Title: s.Say("sheet.not released.title"), Text: document.Plain(s.Say("sheet.not released." + string(s.rev.Status))),
	}}
}

// tops says which top the sheet is of, where the rod has others.
func (s *sheet) tops() []document.Block {
	switch names := s.spec.TopNames(); {
	case s.rev.Top != "":
		return []document.Block{s.paragraph("sheet.tops.this", "top", s.rev.Top)}
	case len(names) > 0:
		return []document.Block{s.paragraph("sheet.tops.others", "tops", s.List(names))}
	}
	return nil
}

func (s *sheet) heading(path string) document.Block {
	return document.Heading{Level: 2, Text: s.Say(path)}
}

func (s *sheet) paragraph(path string, pairs ...string) document.Block {
	return document.Paragraph(document.Plain(s.Say(path, pairs...)))
}

// cautions are of what may hurt somebody who builds and tries a rod.
func (s *sheet) cautions() []document.Block {
	return []document.Block{
		s.heading("cautions.heading"), s.Cautions(s.spec, "dust", "resin", "loading", "power lines"), s.paragraph("cautions.first"),
	}
}
