package story

import (
	"context"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
)

// cardFigures are the five figures on a card; where a rod has no test curve its third
// load stands for it.
var cardFigures = []string{"rings", "weight", "test-curve", "recovery", "flat-turn"}

// Card is a model on one page for the counter or the parcel: then and now, five
// figures, the maker.
func Card(ctx context.Context, r *catalogue.Range, model string, o Options) (*document.Document, error) {
	o.Reader, o.Print = Customer, true
	t, err := gather(ctx, r, model, o)
	if err != nil {
		return nil, err
	}
	d, err := t.sheet(t.spec().Name.Text, t.Say("card.footer"))
	if err != nil {
		return nil, err
	}
	d.Single, d.Number = true, func(int, int) string { return "" }
	pen := t.pen
	if o.Paper.Width < document.A5.Width {
		pen = t.half
	}
	table := document.Table{Columns: []document.Column{{}, {Head: t.last().name, Right: true}}}
	shown := []*chapter{t.last()}
	if t.whole == nil {
		pic, err := pen.Rod(t.spec())
		if err != nil {
			return nil, err
		}
		pic.Notes = ""
		d.Blocks = []document.Block{document.Paragraph(telling.Plain(t.about(t.spec()))), t.figure(pic)}
	} else {
		rods := t.labelled(t.first(), t.last())
		slide, err := pen.ThenAndNow("", rods[0], rods[1])
		if err != nil {
			return nil, err
		}
		d.Blocks = []document.Block{document.Paragraph(document.Bold(sentences(t.lead()))), t.figure(slide.Picture)}
		table.Columns = append([]document.Column{{}, {Head: t.first().name, Right: true}}, table.Columns[1:]...)
		shown = []*chapter{t.first(), t.last()}
	}
	figs := figuresOf(shown)
	for _, key := range cardFigures {
		if _, ok := t.last().Figures.Get(key); !ok && key == "test-curve" {
			key = "third-load"
		}
		row := []string{t.Say("card." + key)}
		for _, values := range t.Values(figs, []string{key}) {
			row = append(row, values...)
		}
		if row[len(row)-1] != "" {
			table.Add(row...)
		}
	}
	d.Blocks = append(d.Blocks, table)
	return d, ctx.Err() // what was being worked out may be missing from it
}
