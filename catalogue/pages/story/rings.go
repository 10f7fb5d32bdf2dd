package story

import (
	"maps"
	"math"
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
	"weight", "recovery", "flat-turn", "swing", "line-touch", "line-gap", "ring-load-worst", "line-angle-sum",
}

// workshopRingFigures are those that the workshop reads besides.
var workshopRingFigures = []string{"ring-weight", "settle", "flat-worst", "cast-share", "line-share"}

// The ring counts that readers are asked for.
const fewestAsked, mostAsked = 5, 12

// rings says why the rod has as many rings as it has, and lets readers hold it
// against the count of their own rod.
func (t *tale) rings() ([]document.Block, error) {
	n := len(t.spec().Rings) - 1
	patterns, err := t.rods.Of(t.spec()).Patterns()
	if err != nil || n < evaluate.FewestRings {
		return nil, t.ctx.Err() // a rod that its line cannot bend has no patterns to tell of
	}
	ask := []int{n}
	for own := fewestAsked; own <= mostAsked; own++ {
		if own != n {
			ask = append(ask, own)
		}
	}
	counts := t.worked(patterns, ask)
	if counts[n] == nil || len(counts) < 2 {
		return nil, t.ctx.Err()
	}
	blocks := []document.Block{t.ringsHeading(n), t.Paragraph("rings.intro"), t.ringsSide(patterns, n)}
	sister, err := t.sister(n)
	if err != nil {
		return nil, err
	}
	yours := []document.Block{t.heading(3, "rings.yours"), t.Paragraph("rings.method", "n", strconv.Itoa(n))}
	asked := t.asked(n)
	for _, own := range slices.Sorted(maps.Keys(counts)) {
		if own == n {
			continue
		}
		yours = append(yours, document.Details{
			Summary: t.Say("rings.mine", "own", strconv.Itoa(own)), Open: own == asked, Choice: true, Screen: t.Reader == Customer,
			Blocks: t.besideOwn(own, n, counts[own], counts[n]),
		})
	}
	if sister == nil || t.Reader == Workshop { // who has every count unfolded on paper
		return slices.Concat(blocks, sister, yours), nil
	}
	return append(blocks, document.Beside{Left: sister, Right: yours}), nil
}

// asked is the count that most readers will have: that of the first release, or a few
// more than there are now.
func (t *tale) asked(n int) int {
	if before := len(t.first().Spec().Rings) - 1; before != n && before >= fewestAsked && before <= mostAsked {
		return before
	}
	return min(n+2, mostAsked)
}

// besideOwn holds the rod with n rings against one with as many as a reader's own, of
// like rings, and against the range's own that had so many.
func (t *tale) besideOwn(own, n int, theirs, ours *evaluate.Figures) []document.Block {
	pairs := []string{"n", strconv.Itoa(n), "own", strconv.Itoa(own)}
	var blocks []document.Block
	for _, side := range []struct {
		path     string
		from, to *evaluate.Figures
	}{{"rings.ours better", theirs, ours}, {"rings.yours better", ours, theirs}} {
		items := t.better(side.from, side.to)
		if t.Reader == Customer {
			items = items[:min(3, len(items))]
		}
		if len(items) == 0 {
			items = []string{t.Say("rings.nothing")}
		}
		blocks = append(blocks, document.Paragraph(document.Bold(t.Say(side.path, pairs...))), telling.Bullets(items))
	}
	for _, c := range t.chapters[:len(t.chapters)-1] {
		if len(c.Spec().Rings)-1 != own {
			continue
		}
		if step, err := t.source.Compare(t.ctx, c.Revision, t.last().Revision); err == nil {
			if did := t.Done(step, []string{"weight", "recovery"}); len(did) > 0 {
				said := t.Say("rings.whole", append(pairs, "release", c.name)...)
				blocks = append(blocks, document.Paragraph(telling.Plain(sentences(append([]string{said}, did...)))))
			}
		}
		break
	}
	return blocks
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

// ringsSide says on which side of the bend the rings stand and what that means: with
// the reel on top, how many rings it takes to keep the line off the blank.
func (t *tale) ringsSide(patterns *evaluate.Patterns, n int) document.Block {
	if !t.spec().Reel.Kind.OnTop() {
		return t.Paragraph("rings.inside")
	}
	said := []string{t.Say("rings.outside")}
	least, ok := t.leastClear(patterns, n)
	if ok {
		said = append(said, t.Say("rings.least", "least", strconv.Itoa(least), "n", strconv.Itoa(n)))
	}
	if cost, ok := t.costOfOne(patterns, n); ok {
		said = append(said, cost)
	}
	return document.Paragraph(telling.Plain(sentences(said)))
}

// leastClear is the least number of like rings, up to n, with which the bent rod's line
// keeps off the blank.
func (t *tale) leastClear(patterns *evaluate.Patterns, n int) (least int, ok bool) {
	const long = 0.05 // m, more than rings a little out of place make
	touches := make([]float64, n+1)
	evaluate.InParallel(t.ctx, n+1, func(i int) {
		touches[i] = math.Inf(1)
		if s, err := patterns.Alike(i); err == nil {
			if figs, err := evaluate.New(s, t.set).Figures(); err == nil {
				touch, _ := figs.Get("line-touch")
				touches[i] = touch.Value
			}
		}
	})
	for least = n; least > evaluate.FewestRings && touches[least-1] <= long; least-- {
	}
	return least, n > 0 && touches[n] <= long
}

// costOfOne says what one like ring more costs.
func (t *tale) costOfOne(patterns *evaluate.Patterns, n int) (string, bool) {
	counts := t.worked(patterns, []int{n, n + 1})
	if len(counts) < 2 {
		return "", false
	}
	between := &catalogue.Step{Shifts: diffing.Figures(counts[n], counts[n+1], t.set)}
	weight, heavier := telling.Shift(between, "weight")
	recovery, slower := telling.Shift(between, "recovery")
	if !heavier || !slower || !t.Shows(weight) || !t.Shows(recovery) {
		return "", false
	}
	return t.Say("rings.cost", "weight", t.Size("weight", "kg", weight.Change, weight.New.Value),
		"recovery", t.Supported("", "1", -recovery.Percent()/100, 0.002)), true
}

// worked are the figures of the rod with some numbers of like rings, as far as there are
// such rods.
func (t *tale) worked(patterns *evaluate.Patterns, counts []int) map[int]*evaluate.Figures {
	found := make([]*evaluate.Figures, len(counts))
	evaluate.InParallel(t.ctx, len(counts), func(i int) {
		if s, err := patterns.Alike(counts[i]); err == nil {
			if figs, err := t.source.FiguresOf(t.ctx, s, t.last().Revision); err == nil {
				found[i] = figs
			}
		}
	})
	all := map[int]*evaluate.Figures{}
	for i, figs := range found {
		if figs != nil {
			all[counts[i]] = figs
		}
	}
	return all
}

// better says what really gets better from one rod to another.
func (t *tale) better(from, to *evaluate.Figures) []string {
	keys := ringFigures
	if t.Reader == Workshop {
		keys = append(keys[:len(keys):len(keys)], workshopRingFigures...)
	}
	between := &catalogue.Step{Shifts: diffing.Figures(from, to, t.set)}
	var said []string
	for _, key := range keys {
		if s, ok := telling.Shift(between, key); ok && t.Felt(s) && s.Change*float64(figures.Of(key).Better) > 0 {
			said = append(said, t.Shift(s))
		}
	}
	return said
}
