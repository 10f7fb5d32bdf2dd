package plan

import (
	"context"
	"fmt"
	"slices"

	"rodlore/diffing"
	"rodlore/evaluate"
)

const (
	// mostRods is how many rods are worked out to find a plan before edits that
	// no customer sees are made together.
	mostRods = 250
	// tooMany is how many rods take too long even so.
	tooMany = 5000
)

// search finds the best plan of so many releases; nil where there is none.
func (w *workshop) search(ctx context.Context, releases int) (*Plan, error) {
	if w.rodsOf(releases) > mostRods {
		if b := w.bundled(); b != nil && b.total() >= releases {
			w = b
		}
	}
	if n := w.rodsOf(releases); n > tooMany {
		return nil, fmt.Errorf("there are %.0f rods in between to look through, which takes too long; plan to a goal nearer by first", n)
	}
	return w.walk(ctx, w.layers(releases))
}

// rodsOf is about how many rods there are in the releases of a plan.
func (w *workshop) rodsOf(releases int) float64 {
	sum := 0.0
	for i := 1; i < releases; i++ {
		n := 1.0
		for _, t := range w.tracks {
			least, most := t.within(i, releases)
			n *= float64(max(0, most-least+1))
		}
		sum += n
	}
	return sum
}

// within is between what numbers of parts are made by the i-th of the releases.
func (t *track) within(i, releases int) (least, most int) {
	return max(0, t.parts-(releases-i)*t.most), min(t.parts, i*t.most)
}

// layers are the states that each release may be in. Every release makes
// something, and what one release allows bounds how much is made by then, and
// how much is left to be.
func (w *workshop) layers(releases int) [][]state {
	layers := make([][]state, releases+1)
	for i := range layers {
		left := releases - i
		states := []state{{}}
		for _, t := range w.tracks {
			var next []state
			for _, x := range states {
				least, most := t.within(i, releases)
				for parts := least; parts <= most; parts++ {
					next = append(next, append(slices.Clone(x), uint8(parts)))
				}
			}
			states = next
		}
		layers[i] = slices.DeleteFunc(states, func(x state) bool { return w.made(x) < i || w.made(x) > w.total()-left })
	}
	return layers
}

// way is the best one to a state.
type way struct {
	gain   float64
	unrest float64 // of the steps, as squares of their shares of the limits
	before int     // state in the layer before; -1 where none leads there
	ways   float64
}

// better compares ways; what rounding makes of equals is equal.
func (a way) better(b way) bool {
	const rounding = 1e-9
	switch {
	case b.before < 0:
		return true
	case a.gain != b.gain && max(a.gain-b.gain, b.gain-a.gain) > rounding:
		return a.gain > b.gain
	}
	return a.unrest < b.unrest-rounding
}

// walk goes from layer to layer and keeps the best way to each state (Bellman
// 1957, Dynamic Programming, chapter I: what is best from a state on does not
// hang on how it was come by, for the sums are over states and steps).
func (w *workshop) walk(ctx context.Context, layers [][]state) (*Plan, error) {
	if err := w.makeAll(ctx, layers); err != nil {
		return nil, err
	}
	ways := [][]way{{{ways: 1}}}
	for i, layer := range layers[1:] {
		next := make([]way, len(layer))
		err := evaluate.InParallel(ctx, len(layer), func(j int) {
			next[j] = w.bestWay(layers[i], ways[i], layer[j], i+1 < len(layers)-1)
		})
		if err != nil {
			return nil, err
		}
		ways = append(ways, next)
	}
	last := ways[len(ways)-1]
	if len(last) == 0 || last[0].before < 0 {
		return nil, nil
	}
	return w.trace(layers, ways), nil
}

// bestWay is the best way to a state from a layer.
func (w *workshop) bestWay(layer []state, ways []way, x state, counts bool) way {
	best := way{before: -1}
	total := 0.0
	to := w.rods[string(x)]
	for i, from := range layer {
		if ways[i].before < 0 || !w.mayFollow(from, x) {
			continue
		}
		unrest, ok := w.step(w.rods[string(from)], to)
		if !ok {
			continue
		}
		total += ways[i].ways
		next := way{gain: ways[i].gain, unrest: ways[i].unrest + unrest, before: i}
		if counts {
			next.gain += to.gain
		}
		if next.better(best) {
			best = next
		}
	}
	best.ways = total
	return best
}

// mayFollow reports whether one release may make what x has more than from:
// something, nothing back, and of no track more than it allows.
func (w *workshop) mayFollow(from, x state) bool {
	made := false
	for i, t := range w.tracks {
		more := int(x[i]) - int(from[i])
		if more < 0 || more > t.most {
			return false
		}
		made = made || more > 0
	}
	return made
}

// step is how much a customer sees of a step; ok is false where it exceeds a
// limit.
func (w *workshop) step(from, to *rod) (unrest float64, ok bool) {
	if from.fault != nil || to.fault != nil {
		return 0, false
	}
	for _, s := range diffing.Visible(from.spec, to.spec, w.Limits) {
		if s.Over() {
			return 0, false
		}
		if s.Limit > 0 {
			unrest += s.Size / s.Limit * s.Size / s.Limit
		}
	}
	return unrest, true
}

// makeAll makes the rods of all states that are not made yet.
func (w *workshop) makeAll(ctx context.Context, layers [][]state) error {
	var states []state
	for _, layer := range layers {
		for _, x := range layer {
			if w.rods[string(x)] == nil {
				w.rods[string(x)] = &rod{}
				states = append(states, x)
			}
		}
	}
	return evaluate.InParallel(ctx, len(states), func(i int) { *w.rods[string(states[i])] = *w.rod(states[i]) })
}

// trace goes the best way back from the goal.
func (w *workshop) trace(layers [][]state, ways [][]way) *Plan {
	last := len(layers) - 1
	p := &Plan{Start: w.start, Releases: make([]Release, last), Ways: ways[last][0].ways, Together: w.together}
	for i, at := last, 0; i > 0; i-- {
		r := w.rods[string(layers[i][at])]
		p.Releases[i-1] = Release{Spec: r.spec, Figures: r.figures}
		at = ways[i][at].before
	}
	before := w.Start
	for i := range p.Releases {
		p.Releases[i].Sights = diffing.Visible(before, p.Releases[i].Spec, w.Limits)
		before = p.Releases[i].Spec
	}
	return p
}
