package plan

import (
	"maps"
	"slices"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/models"
)

// workshop makes the rods of a task.
type workshop struct {
	Task
	compared    *diffing.Comparison // of start and goal
	start, goal *evaluate.Figures
	tracks      []track
	butts       []*models.Part // of the butt ring by the parts made of its track
	together    [][]string
	rods        map[string]*rod // by state
}

// state is how many parts are made of each track.
type state []uint8

// rod is the rod of a state.
type rod struct {
	spec    *models.Spec
	figures *evaluate.Figures
	gain    float64
	fault   error
}

func newWorkshop(t Task) (*workshop, error) {
	w := &workshop{Task: t, compared: diffing.NewComparer(t.Limits).Compare(t.Start, t.Goal), rods: map[string]*rod{}}
	var err error
	if w.start, err = evaluate.New(t.Start, t.Settings).Figures(); err != nil {
		return nil, err
	}
	if w.goal, err = evaluate.New(t.Goal, t.Settings).Figures(); err != nil {
		return nil, err
	}
	w.layTracks()
	return w, nil
}

// total is how many parts there are to be made.
func (w *workshop) total() int {
	n := 0
	for _, t := range w.tracks {
		n += t.parts
	}
	return n
}

// fewest is how many releases it takes at the least.
func (w *workshop) fewest() int {
	n := 1
	for i := range w.tracks {
		n = max(n, w.tracks[i].fewest())
	}
	return n
}

// resolved is a spec of a model with all that start and goal are made of.
func (w *workshop) resolved(m *models.Model) *models.Spec {
	s := &models.Spec{Model: m, Parts: maps.Clone(w.Start.Parts), Materials: maps.Clone(w.Start.Materials)}
	maps.Copy(s.Parts, w.Goal.Parts)
	maps.Copy(s.Materials, w.Goal.Materials)
	return s
}

// share is how much is made of the track of a kind; where there is none, of the
// track that has a group, and without that either, nothing.
func (w *workshop) share(x state, k kind, g diffing.Group) float64 {
	at := slices.IndexFunc(w.tracks, func(t track) bool { return t.kind == k && k != whole })
	if at < 0 {
		at = slices.IndexFunc(w.tracks, func(t track) bool { return slices.Contains(t.groups, g) })
	}
	if at < 0 {
		return 0
	}
	return float64(x[at]) / float64(w.tracks[at].parts)
}

// buttPlace is where the butt ring stands a share of its way, m from the butt.
func (w *workshop) buttPlace(share float64) float64 {
	place := func(s *models.Spec) float64 {
		return s.TotalLength() - float64(s.Rings[len(s.Rings)-1].At.Value)
	}
	from, to := place(w.Start), place(w.Goal)
	return from + share*(to-from)
}

// rod makes the rod of a state and works it out.
func (w *workshop) rod(x state) *rod {
	r := &rod{}
	r.spec, r.figures, r.fault = w.work(x)
	if r.fault == nil {
		r.gain = w.gain(r.figures)
	}
	return r
}

// work makes the spec of a state and works it out.
func (w *workshop) work(x state) (*models.Spec, *evaluate.Figures, error) {
	switch made := w.made(x); made {
	case 0:
		return w.Start, w.start, nil
	case w.total():
		return w.Goal, w.goal, nil
	}
	s, err := w.blend(x)
	if err != nil {
		return nil, nil, err
	}
	if w.pattern(x) == partly {
		return w.layRings(s, x)
	}
	figures, err := evaluate.New(s, w.Settings).Figures()
	return s, figures, err
}

// made is how many parts are made.
func (w *workshop) made(x state) int {
	n := 0
	for _, parts := range x {
		n += int(parts)
	}
	return n
}

// blend is the rod with what is made of everything but the places of the rings.
func (w *workshop) blend(x state) (*models.Spec, error) {
	taken := map[diffing.Group]bool{}
	goal := w.Goal
	for i, t := range w.tracks {
		done := int(x[i]) == t.parts
		if (t.kind == blank || t.kind == handle) && x[i] > 0 && !done {
			goal, done = w.partWay(t.kind, w.Start.Model, goal.Model, float64(x[i])/float64(t.parts)), true
		}
		for _, g := range t.groups {
			taken[g] = done
		}
	}
	if w.has(buttSize) && !w.groupTracked(diffing.RingParts) {
		taken[diffing.RingParts] = w.share(x, buttSize, diffing.Group{}) == 1
	}
	switch w.pattern(x) {
	case all:
		taken[diffing.RingPattern] = true
	case partly: // laid out anew from the rings of one side
		taken[diffing.RingPattern] = taken[diffing.RingParts]
	}
	s, err := diffing.Blend(w.Start, goal, taken)
	if err != nil || !w.has(buttSize) {
		return s, err
	}
	return w.withButt(s, x)
}

func (w *workshop) groupTracked(g diffing.Group) bool {
	return slices.ContainsFunc(w.tracks, func(t track) bool { return slices.Contains(t.groups, g) })
}

// amount is how much is made of something.
type amount int

const (
	none amount = iota
	partly
	all
)

// pattern is how much is made of the ring pattern: its count, the place of its
// butt ring and all the rest.
func (w *workshop) pattern(x state) amount {
	begun, done := false, true
	for i, t := range w.tracks {
		if t.kind == ringCount || t.kind == buttPlace || slices.Contains(t.groups, diffing.RingPattern) {
			begun = begun || x[i] > 0
			done = done && int(x[i]) == t.parts
		}
	}
	switch {
	case !begun:
		return none
	case done:
		return all
	}
	return partly
}
