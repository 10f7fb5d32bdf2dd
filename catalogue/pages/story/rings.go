package story

import (
	"strconv"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/diffing"
	"rodlore/evaluate"
)

// ringFigures are those that the number of rings has a say in.
var ringFigures = []string{
	"weight", "ring-weight", "swing", "recovery", "settle", "flat-turn", "flat-worst", "cast-share",
	"line-touch", "line-gap", "ring-load-worst", "ring-turn-spread", "line-angle-sum",
}

// workshopRingFigures are those that are the workshop's own besides.
var workshopRingFigures = []string{"parts-cost", "bench-time"}

// moreRings is how many rings more a rod is compared with.
const moreRings = 2

// rings says why the rod has as many rings as it has, from its own figures with
// more rings and with one fewer.
func (t *tale) rings() ([]document.Block, error) {
	s := t.spec()
	n := len(s.Rings) - 1
	if n < evaluate.FewestRings {
		return nil, nil
	}
	more, fewer, err := t.otherCounts(n)
	if err != nil || more == nil {
		return nil, err
	}
	blocks := []document.Block{t.ringsHeading(n), t.Paragraph("rings.intro"), t.ringsSide()}
	pairs := []string{"n", strconv.Itoa(n), "more", strconv.Itoa(n + moreRings), "fewer", strconv.Itoa(n - 1)}
	blocks = append(blocks, t.Paragraph("rings.method", pairs...))
	listed := func(path string, items []string) []document.Block {
		if len(items) == 0 {
			items = []string{t.Say("rings.nothing")}
		}
		return []document.Block{t.heading(3, path, pairs...), telling.Bullets(items)}
	}
	now := t.last().Figures
	both := document.Beside{Left: listed("rings.fewer better", t.better(more, now)), Right: listed("rings.more better", t.better(now, more))}
	if fewer != nil {
		both.Right = append(both.Right, listed("rings.fewer still", t.better(fewer, now))...)
	}
	return append(blocks, both, t.Paragraph("rings.verdict", pairs...)), nil
}

// ringsHeading asks what a customer would.
func (t *tale) ringsHeading(n int) document.Block {
	switch before := len(t.first().Spec.Rings) - 1; {
	case n < before:
		return t.heading(2, "rings.why fewer")
	case n > before:
		return t.heading(2, "rings.why more")
	}
	return t.heading(2, "rings.why as many")
}

// ringsSide says on which side of the bend the rings stand and what that means.
func (t *tale) ringsSide() document.Block {
	if t.spec().Reel.Kind.OnTop() {
		return t.Paragraph("rings.outside")
	}
	return t.Paragraph("rings.inside")
}

// otherCounts are the figures of the rod with more rings and with one fewer,
// nil where there is no such pattern.
func (t *tale) otherCounts(n int) (more, fewer *evaluate.Figures, err error) {
	patterns, err := evaluate.NewPatterns(t.spec(), t.set)
	if err != nil {
		return nil, nil, nil // a rod that cannot be bent by its line has no patterns to tell of
	}
	found := make([]*evaluate.Figures, 2)
	evaluate.InParallel(len(found), func(i int) {
		count := []int{n + moreRings, n - 1}[i]
		if count < evaluate.FewestRings || count > evaluate.MostRings {
			return
		}
		if laid, err := patterns.Lay(count, 0); err == nil {
			found[i], _ = evaluate.EvaluateWithTolerances(laid.Spec, t.set)
		}
	})
	return found[0], found[1], nil
}

// better says what really gets better from one rod to another.
func (t *tale) better(from, to *evaluate.Figures) []string {
	keys := ringFigures
	if t.Reader == Workshop {
		keys = append(keys[:len(keys):len(keys)], workshopRingFigures...)
	}
	shifts, _ := diffing.Figures(from, to)
	between := &catalogue.Step{Shifts: shifts}
	var said []string
	for _, key := range keys {
		if s, ok := telling.Shift(between, key); ok && t.Shows(s) && s.Change*float64(evaluate.Better(key)) > 0 {
			said = append(said, t.Shift(s))
		}
	}
	return said
}
