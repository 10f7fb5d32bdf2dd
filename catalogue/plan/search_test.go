package plan

import (
	"math"
	"slices"
	"testing"

	"rodlore/diffing"
)

// everyWay walks every sequence of states from start to goal, one after the
// other, and gives their number and the largest sum of gains.
func (w *workshop) everyWay(x state, left int, sum float64) (ways int, best float64) {
	best = math.Inf(-1)
	for _, next := range w.every() {
		if left == 1 && w.made(next) != w.total() || left > 1 && w.made(next) == w.total() || !after(next, x) {
			continue
		}
		from, to := w.rod(x), w.rod(next)
		if from.fault != nil || to.fault != nil || slices.ContainsFunc(diffing.Visible(from.spec, to.spec, w.Limits), diffing.Sight.Over) {
			continue
		}
		n, gain := 1, sum
		if left > 1 {
			n, gain = w.everyWay(next, left-1, sum+to.gain)
		}
		ways, best = ways+n, max(best, gain)
	}
	return ways, best
}

// every is every state there is.
func (w *workshop) every() []state {
	states := []state{{}}
	for _, t := range w.tracks {
		var next []state
		for _, x := range states {
			for n := range t.parts + 1 {
				next = append(next, append(slices.Clone(x), uint8(n)))
			}
		}
		states = next
	}
	return states
}

// after reports whether a state has all that another has, and something more.
func after(x, before state) bool {
	more := false
	for i := range x {
		if x[i] < before[i] {
			return false
		}
		more = more || x[i] > before[i]
	}
	return more
}

// The search finds what trying every way finds, though it looks at fewer.
func TestSearchAgainstEveryWay(t *testing.T) {
	s := demoRange(t)
	start := sold(t, "skerry-10", "2021")
	for _, row := range []struct {
		name, goal, steps string
		releases          int
	}{
		{"edits at once", edited(t, start, "{at: 0 mm, part: T-8}", "{at: 0 mm, part: T-6}", "to: 620 mm", "to: 595 mm", "trim: rust", "trim: slate"), "{}", 2},
		{"two rings fewer and a lighter handle", edited(t, start, "  - {at: 365 mm, part: DL-8}\n", "", "  - {at: 750 mm, part: DL-10}\n", "", "to: 620 mm", "to: 595 mm"), "{}", 3},
		{"a butt ring in two parts", edited(t, start, "at: 2020 mm", "at: 1850 mm", "to: 620 mm", "to: 595 mm"), "{}", 2},
		{"a handle in three parts", edited(t, start, "to: 620 mm", "to: 545 mm", "{at: 0 mm, part: T-8}", "{at: 0 mm, part: T-6}"), "{}", 3},
	} {
		t.Run(row.name, func(t *testing.T) {
			task := s.task(t, start, row.goal, row.steps, row.releases)
			p, err := Make(t.Context(), task)
			if err != nil {
				t.Fatal(err)
			}
			w, err := newWorkshop(task)
			if err != nil {
				t.Fatal(err)
			}
			ways, best := w.everyWay(make(state, len(w.tracks)), row.releases, 0)
			got := 0.0
			for _, r := range p.Releases[:len(p.Releases)-1] {
				got += w.gain(r.Figures)
			}
			if p.Ways != float64(ways) || ways < 2 {
				t.Errorf("%v ways, want %d and more than one", p.Ways, ways)
			}
			const rounding = 1e-9 // of sums taken in another order
			if math.Abs(got-best) > rounding {
				t.Errorf("the figures come %v far, the best way %v", got, best)
			}
		})
	}
}

// With too many rods to look through, edits that nobody sees go together, and
// those for the better with those for the better.
func TestBundled(t *testing.T) {
	s := demoRange(t)
	task := s.task(t, sold(t, "skerry-10", "2021"), sold(t, "skerry-10", "2026"), ownSteps, 5)
	task.First = []string{"weight"}
	w, err := newWorkshop(task)
	if err != nil {
		t.Fatal(err)
	}
	b := w.bundled()
	if b == nil || b.total() >= w.total() || len(b.together) == 0 {
		t.Fatalf("nothing was put together: %+v", b)
	}
	in := func(w *workshop) int {
		n := 0
		for _, t := range w.tracks {
			n += max(1, len(t.groups))
		}
		return n
	}
	if in(b) != in(w) {
		t.Errorf("%d edits in the tracks, want %d", in(b), in(w))
	}
	if !slices.ContainsFunc(b.tracks, func(t track) bool { return t.kind == ringCount }) {
		t.Error("the ring count is a track no more")
	}
}
