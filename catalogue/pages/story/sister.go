package story

import (
	"math"
	"slices"
	"strconv"

	"rodlore/catalogue"
	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/diffing"
)

// sister shows a rod on sale of the same family and action, at another power, that has
// fewer rings than n: what nobody finds odd on the one is no loss on the other.
func (t *tale) sister(n int) ([]document.Block, error) {
	if t.spec().Family.Text == "" {
		return nil, nil
	}
	names, err := t.source.Models()
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		revs, err := t.source.Revisions(name)
		if err != nil {
			return nil, err
		}
		i := slices.IndexFunc(revs, func(r *catalogue.Revision) bool {
			return r.Status == catalogue.Released && !r.OffSale() && r.Fault() == nil
		})
		if name == t.model || i < 0 {
			continue
		}
		if rings := len(revs[i].Spec().Rings) - 1; rings < 1 || rings >= n {
			continue
		}
		if blocks, err := t.alike(revs[i]); blocks != nil || err != nil {
			return blocks, err
		}
	}
	return nil, nil
}

// alike lays the bends of the rod and of another one of the family over each other,
// each under a load to match its power; nil where it is not certain that they are of
// one action, or where the power is about the same.
func (t *tale) alike(other *catalogue.Revision) ([]document.Block, error) {
	const least = 0.05 // of the power: less nobody would call another
	actions, err := t.source.Actions(t.ctx, t.last().Revision, other)
	third, ok := t.last().Figures.Get("third-load")
	if err != nil || !ok || actions == nil || diffing.AnswerActions(*actions) != diffing.Same || math.Abs(actions.Power-1) < least {
		return nil, t.ctx.Err() // a rod that cannot be bent so is told of elsewhere
	}
	name := other.Spec().Name.Text
	rods := []pages.Labelled{{Label: t.spec().Name.Text, Spec: t.spec()}, {Label: name, Spec: other.Spec()}}
	pic, err := t.half.Alike(rods, []float64{third.Value, third.Value * actions.Power})
	if err != nil {
		return nil, err
	}
	how := "more"
	if actions.Power < 1 {
		how = "less"
	}
	said := t.Say("rings.sister."+how, "model", name, "n", strconv.Itoa(len(other.Spec().Rings)-1),
		"percent", strconv.Itoa(int(100*math.Abs(actions.Power-1)+0.5)))
	return []document.Block{
		t.heading(3, "rings.sister.heading", "model", name),
		document.Paragraph(telling.Plain(said)), t.figure(pic, t.Say("rings.sister.look")),
	}, nil
}
