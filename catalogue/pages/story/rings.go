package story

import (
	"slices"
	"strconv"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
)

// ringFigures are those that the number of rings has a say in, each told once: a
// rod that weighs less with fewer rings has lighter rings, and one that swings
// quicker comes to rest sooner.
var ringFigures = []string{
	"weight", "swing", "recovery", "flat-turn", "cast-share", "line-touch", "line-gap", "ring-load-worst", "line-angle-sum",
}

// workshopRingFigures are those that the workshop reads besides.
var workshopRingFigures = []string{"ring-weight", "settle", "flat-worst", "parts-cost", "bench-time"}

// moreRings is how many rings more a rod is compared with.
const moreRings = 2

// rings says why the rod has as many rings as it has, from its own figures with
// as many, with more and with fewer, all of them placed by the same rule.
func (t *tale) rings() ([]document.Block, error) {
	s := t.spec()
	n := len(s.Rings) - 1
	if n < evaluate.FewestRings {
		return nil, nil
	}
	now, more, fewer := t.counts(n)
	if now == nil || more == nil {
		return nil, nil
	}
	blocks := []document.Block{t.ringsHeading(n), t.Paragraph("rings.intro"), t.ringsSide()}
	pairs := []string{"n", strconv.Itoa(n), "more", strconv.Itoa(more.rings)}
	blocks = append(blocks, t.Paragraph("rings.method", pairs...))
	listed := func(path string, items []string) []document.Block {
		if len(items) == 0 {
			items = []string{t.Say("rings.nothing")}
		}
		return []document.Block{t.heading(3, path, pairs...), telling.Bullets(items)}
	}
	both := document.Beside{Left: listed("rings.fewer better", t.better(more, now)), Right: listed("rings.more better", t.better(now, more))}
	if fewer != nil {
		pairs = append(pairs, "fewer", strconv.Itoa(fewer.rings))
		both.Left = append(both.Left, listed("rings.fewer still", t.better(fewer, now))...)
		both.Right = append(both.Right, listed("rings.still better", t.better(now, fewer))...)
	}
	return append(blocks, both, t.Paragraph("rings.verdict", pairs...)), nil
}

// ringsHeading asks what a customer would.
func (t *tale) ringsHeading(n int) document.Block {
	switch before := len(t.first().Spec().Rings) - 1; {
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

// counted is the rod with another number of rings.
type counted struct {
	rings   int
	figures *evaluate.Figures
}

// counts are the rod with n rings, with more and with fewer, nil where there is
// no such pattern.
func (t *tale) counts(n int) (now, more, fewer *counted) {
	patterns, err := t.rods.Of(t.spec()).Patterns()
	if err != nil {
		return nil, nil, nil // a rod that its line cannot bend has no patterns to tell of
	}
	counts := [3]int{n, n + moreRings, t.tooFew(patterns, n)}
	var found [3]*counted
	evaluate.InParallel(t.ctx, len(counts), func(i int) {
		if laid := lay(patterns, counts[i]); laid != nil {
			if figures, err := t.source.FiguresOf(t.ctx, laid.Spec, t.last().Revision); err == nil {
				found[i] = &counted{counts[i], figures}
			}
		}
	})
	return found[0], found[1], found[2]
}

// lay lays out that many rings; nil where there is no such pattern.
func lay(patterns *evaluate.Patterns, count int) *evaluate.Pattern {
	if count < evaluate.FewestRings || count > evaluate.MostRings {
		return nil
	}
	laid, err := patterns.Lay(count, 0)
	if err != nil {
		return nil
	}
	return laid
}

// tooFew is how many rings fewer than n tell what having too few means: with the
// reel on top the most with which the line lies on the blank, if a few fewer let
// it, otherwise one fewer.
func (t *tale) tooFew(patterns *evaluate.Patterns, n int) int {
	if !t.spec().Reel.Kind.OnTop() {
		return n - 1
	}
	const (
		tried = 6
		long  = 0.05 // m, more than rings a little out of place make
	)
	var touches [tried]bool
	evaluate.InParallel(t.ctx, tried, func(i int) {
		if laid := lay(patterns, n-1-i); laid != nil {
			touch, _ := laid.Figures.Get("line-touch")
			touches[i] = touch.Value > long
		}
	})
	if i := slices.Index(touches[:], true); i >= 0 {
		return n - 1 - i
	}
	return n - 1
}

// better says what really gets better from one rod to another.
func (t *tale) better(from, to *counted) []string {
	keys := ringFigures
	if t.Reader == Workshop {
		keys = append(keys[:len(keys):len(keys)], workshopRingFigures...)
	}
	shifts := diffing.Figures(from.figures, to.figures, t.set)
	between := &catalogue.Step{Shifts: shifts}
	var said []string
	for _, key := range keys {
		if s, ok := telling.Shift(between, key); ok && t.Shows(s) && s.Change*float64(figures.Of(key).Better) > 0 {
			said = append(said, t.Shift(s))
		}
	}
	return said
}
