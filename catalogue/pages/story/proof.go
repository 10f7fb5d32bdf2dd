package story

import (
	"slices"

	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/models"
)

// weight shows where the weight went from the first release to the last.
func (t *tale) weight() ([]document.Block, error) {
	if t.whole == nil {
		return nil, nil
	}
	s, ok := telling.Shift(t.whole.Step, "weight")
	if !ok || !t.Felt(s) {
		return nil, nil
	}
	shares, err := t.source.Shares(t.ctx, t.first().Revision, t.last().Revision)
	if err != nil { // of rods that cannot be blended nobody can say which edit did what
		return nil, t.ctx.Err()
	}
	pic := t.half.Waterfall(t.first().name, t.last().name, s, t.parts(shares, s.Key))
	return []document.Block{t.heading(2, "weight.heading"), t.figure(pic, t.Say("weight.look"))}, nil
}

// parts are what the things that a customer tells apart did to a figure, each called by
// what its edits did in all.
func (t *tale) parts(shares *diffing.Shares, key string) []pages.Part {
	var kinds []string // in the order of the edits
	sum := map[string]float64{}
	for _, s := range shares.List {
		kind := t.kindOf(s.Group)
		if !slices.Contains(kinds, kind) {
			kinds = append(kinds, kind)
		}
		sum[kind] += s.Figures[key]
	}
	return say.Each(kinds, func(kind string) pages.Part {
		path := "weight." + kind
		switch {
		case t.Has(path):
		case sum[kind] > 0:
			path += ".up"
		default:
			path += ".down"
		}
		return pages.Part{Name: t.Say(path), Size: sum[kind]}
	})
}

// kindOf is which of the things that a customer tells apart a group is about.
func (t *tale) kindOf(g diffing.Group) string {
	of := t.spec().Parts[g.Of]
	switch {
	case g == diffing.RingPattern:
		return "ring pattern"
	case g == diffing.RingParts, g.Kind == diffing.SharedKind && of != nil && of.Kind == models.RingPart:
		return "rings"
	case g == diffing.Handle:
		return "handle"
	case g == diffing.Finish:
		return "whippings"
	case g.Kind == diffing.BlankKind, g.Kind == diffing.CutKind, g == diffing.StatedLength, g == diffing.Sections, g == diffing.Joints, g == diffing.BlankRead:
		return "blank"
	}
	return "parts"
}

// swing shows the tips of then and now swinging side by side.
func (t *tale) swing() ([]document.Block, error) {
	rods := t.labelled(t.last())
	look := t.Say("swing.one")
	if t.whole != nil {
		rods = t.labelled(t.first(), t.last())
		look = sentences(append([]string{t.Say("swing.two")}, t.Done(t.whole.Step, []string{"recovery"})...))
	}
	id := "swing"
	if t.Print {
		id = ""
	}
	swinging, err := t.half.Swinging(id, rods)
	if err != nil {
		return nil, nil // a rod without modes has nothing to show
	}
	if !t.Print {
		t.moving.Swing = &played{Play: t.Say("swing.play"), Pause: t.Say("swing.pause"), Swinging: swinging}
	}
	return []document.Block{t.heading(2, "swing.heading"), t.figure(swinging.Picture, look)}, nil
}

// flat shows what interrupted the curve then and interrupts it now.
func (t *tale) flat() ([]document.Block, error) {
	blocks := []document.Block{t.heading(2, "flat.heading")}
	if t.whole == nil {
		pic, err := t.half.Curvature(t.spec())
		return append(blocks, t.figure(pic, t.Say("flat.look"))), err
	}
	rods := t.labelled(t.first(), t.last())
	pic, err := t.half.Flattened(rods[0], rods[1])
	if err != nil {
		return nil, err
	}
	said := append([]string{t.Say("flat.look")}, t.Done(t.whole.Step, []string{"flat-turn"})...)
	detail, err := t.half.Curvature(t.spec())
	if err != nil {
		return nil, err
	}
	blocks = append(blocks, t.figure(pic, sentences(said)))
	return append(blocks, t.fold(t.Say("flat.detail", "release", t.last().name), t.figure(detail))...), nil
}
