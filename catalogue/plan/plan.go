package plan

import (
	"context"
	"errors"
	"fmt"
	"math"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// Task is what is to be planned. Start and Goal are of one model and resolved
// with the parts and materials given, which the rods in between are made of too.
type Task struct {
	Start, Goal *models.Spec
	Parts       *models.Parts
	Materials   *models.Materials
	Settings    *models.Settings
	Limits      diffing.StepLimits
	Releases    int
	First       []string // keys of figures that are to improve as early as possible
}

// Plan is a way from the start to the goal.
type Plan struct {
	Start    *evaluate.Figures
	Releases []Release // the last one is the goal
	// Ways is how many orders of the edits keep to the limits, of which this is
	// the best.
	Ways float64
	// Together are edits that were not told apart in looking for it.
	Together [][]string
}

// Release is one rod of a plan.
type Release struct {
	Spec    *models.Spec
	Figures *evaluate.Figures
	Sights  []diffing.Sight // against the release before
}

// Make plans. Edits are made group by group. What changes more than one release
// allows is divided into equal parts, ring by ring and size by size, and rings in
// between are laid out anew on the bent rod. Of all orders that keep to the
// limits it takes the one in which the figures of First come furthest, summed
// over the releases in between, each as a share of its whole change, and of
// equals the one with the smaller steps.
//
// Where the goal is out of reach the error is an Unreachable.
func Make(ctx context.Context, t Task) (*Plan, error) {
	switch {
	case t.Start.Reel.Kind != t.Goal.Reel.Kind:
		return nil, fmt.Errorf("the goal is for another reel, %s for %s; rings and handle go by the reel, so that is another rod, to which no steps lead",
			t.Goal.Reel.Kind, t.Start.Reel.Kind)
	case t.Start.ID() == t.Goal.ID():
		return nil, errors.New("the goal is the very rod that the plan starts from; there is nothing to plan")
	}
	w, err := newWorkshop(t)
	if err != nil {
		return nil, err
	}
	var never []Stop
	for i := range w.tracks {
		if w.tracks[i].never != "" {
			never = append(never, w.tracks[i].stop())
		}
	}
	if len(never) > 0 {
		return nil, &Unreachable{Releases: t.Releases, Stops: never}
	}
	if w.total() == 0 && t.Releases == 1 { // nothing but words differ
		return &Plan{Start: w.start, Releases: []Release{{Spec: t.Goal, Figures: w.goal}}, Ways: 1}, nil
	}
	if w.total() < t.Releases {
		return nil, fmt.Errorf("what differs is made in %s at the most; plan it in no more", releases(max(1, w.total())))
	}
	if t.Releases >= w.fewest() {
		p, err := w.search(ctx, t.Releases)
		if p != nil || err != nil {
			return p, err
		}
	}
	return nil, w.unreachable(ctx)
}

// unreachable says what keeps the goal out of reach, and looks for the number of
// releases that does. That may be a smaller one: edits that no release may have
// one without the other leave nothing for the rest.
func (w *workshop) unreachable(ctx context.Context) error {
	out := &Unreachable{Releases: w.Releases}
	for _, t := range w.tracks {
		if t.fewest() > w.Releases {
			out.Stops = append(out.Stops, t.stop())
		}
	}
	if len(out.Stops) == 0 {
		for _, s := range w.compared.Sights() {
			if s.Over() {
				out.Stops = append(out.Stops, Stop{Sight: s})
			}
		}
	}
	for n := w.fewest(); n <= min(w.total(), MostReleases); n++ {
		if n == w.Releases {
			continue
		}
		p, err := w.search(ctx, n)
		if err != nil {
			return err
		}
		if p != nil {
			out.Least = n
			break
		}
	}
	return out
}

// gain is how far a rod's figures have come towards better ones. Of a figure of
// which neither more nor less is better, it is how far it has come to the goal's.
func (w *workshop) gain(f *evaluate.Figures) float64 {
	sum := 0.0
	for _, key := range w.First {
		from, begins := w.start.Get(key)
		to, ends := w.goal.Get(key)
		is, ok := f.Get(key)
		if !begins || !ends || !ok {
			continue // there is nothing to compare
		}
		whole := to.Value - from.Value
		way := float64(figures.Of(key).Better)
		if way == 0 {
			way = math.Copysign(1, whole)
		}
		// A figure that the goal leaves as it is counts by hundredths of itself.
		const least = 0.01
		if scale := max(math.Abs(whole), least*math.Abs(from.Value)); scale > 0 {
			sum += way * (is.Value - from.Value) / scale
		}
	}
	return sum
}
