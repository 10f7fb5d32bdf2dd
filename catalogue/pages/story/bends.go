package story

import (
	"math"
	"slices"

	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/pages/telling"
	"rodlore/evaluate"
	"rodlore/models/units"
)

// bends lays the first and the last release over each other under one load, hung
// from the tip and, folded, pulling at the line through their rings. A reader with
// scripts may change the load of both.
func (t *tale) bends() ([]document.Block, error) {
	rods := t.labelled(t.last())
	look := t.Say("bends.one", "release", t.last().name)
	if t.whole != nil {
		rods = t.labelled(t.first(), t.last())
		look = sentences(append([]string{t.Say("bends.two", "first", t.first().name, "last", t.last().name)}, t.strength()...))
	}
	most, steps := t.loads()
	hung := evaluate.BendCase{Force: most, Direction: math.Pi / 2, Weight: true}
	pic, err := t.bent("bend", rods, hung, steps)
	if err != nil {
		return nil, err
	}
	blocks := []document.Block{t.heading(2, "bends.heading"), t.figure(pic, look)}
	// A pole has no rings to run a line through.
	if slices.ContainsFunc(rods, func(r pages.Labelled) bool { return len(r.Spec.Rings) < 2 }) {
		return blocks, nil
	}
	hung.ThroughRings = true
	if pic, err = t.bent("pull", rods, hung, steps); err != nil {
		return nil, err
	}
	return append(blocks, t.fold(t.Say("bends.threaded"), t.figure(pic, t.Say("bends.line")))...), nil
}

// bent draws rods under half of a load, which a script on a screen may change. Names
// of what moves begin with id.
func (t *tale) bent(id string, rods []pages.Labelled, most evaluate.BendCase, steps int) (*drawing.Picture, error) {
	if t.Print {
		most.Force *= float64(steps/2) / float64(steps)
		return t.half.Bends(t.ctx, rods, most)
	}
	ladder, err := t.half.BendLadder(t.ctx, id, rods, most, steps)
	if err != nil {
		return nil, err
	}
	t.moving.Load = t.Say("bends.slider")
	t.moving.Bends = append(t.moving.Bends, ladder)
	return ladder.Picture, nil
}

// strength says what became of the power, which is what such curves show.
func (t *tale) strength() []string {
	if curve, ok := telling.CurveAlone(t.whole.Step); ok {
		said := []string{t.Shift(curve)}
		if third, told := telling.Shift(t.whole.Step, "third-load"); told && designedAlike(third) {
			said = append(said, t.Say("bends.curve"))
		}
		return said
	}
	if how := t.asStrong(); how != "" {
		return []string{t.Say("bends." + how)}
	}
	if s, ok := telling.Shift(t.whole.Step, "third-load"); ok && t.Shows(s) {
		return []string{t.Shift(s)}
	}
	return nil
}

// Steps of a load that are told in a round number.
var (
	roundGrams  = []float64{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000}
	roundOunces = []float64{0.125, 0.25, 0.5, 1, 2, 4, 8, 16, 32}
)

// mostSteps is into how many steps the loads are divided at most.
const mostSteps = 14

// loads are the largest load, N, which is about the test curve, and the number of
// round steps to it.
func (t *tale) loads() (most float64, steps int) {
	least := math.Inf(1)
	for _, c := range []*chapter{t.first(), t.last()} {
		if f, ok := c.Figures.Get("test-curve"); ok {
			least = min(least, f.Value)
		}
	}
	if math.IsInf(least, 1) { // a rod whose tip never comes round
		third, _ := t.last().Figures.Get("third-load")
		least = third.Value
	}
	round, unit := roundGrams, units.Size("kgf")/1000
	if t.Units == "imperial" {
		round, unit = roundOunces, units.Size("ozf")
	}
	step := round[len(round)-1] * unit
	if i := slices.IndexFunc(round, func(n float64) bool { return least/(n*unit) <= mostSteps }); i >= 0 {
		step = round[i] * unit
	}
	steps = max(int(least/step), 1)
	return float64(steps) * step, steps
}
