package catalogue

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// TestCourse holds what a file was in every state of histories with branches and
// merges against going up the first parents of each state by itself.
func TestCourse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 30).Draw(t, "states")
		log := &Log{States: make([]State, n)}
		for i := range n { // 0 is the newest
			st := &log.States[i]
			st.ID = fmt.Sprint(i)
			for older := n - 1 - i; older > 0 && len(st.Parents) < rapid.SampledFrom([]int{1, 1, 1, 1, 2, 0}).Draw(t, "parents"); {
				st.Parents = append(st.Parents, fmt.Sprint(i+rapid.IntRange(1, min(older, 3)).Draw(t, "parent")))
			}
			for parent := range max(1, len(st.Parents)) {
				if rapid.IntRange(0, 3).Draw(t, "edited") == 0 {
					blob := rapid.SampledFrom([]string{"", "a", "b", "c"}).Draw(t, "blob")
					st.Changes = append(st.Changes, Change{Parent: parent, Path: "f", New: blob})
				}
			}
		}
		log.Head = fmt.Sprint(rapid.IntRange(0, n-1).Draw(t, "head"))
		x := newIndex(log)
		held := x.held("f")
		for i := range n {
			if got, want := held.at(i), climb(x, i); got != want {
				t.Fatalf("in state %d it was %q, want %q", i, got, want)
			}
		}
	})
}

// climb is what the file of the test was in a state.
func climb(x *index, state int) string {
	for _, c := range x.States[state].Changes {
		if c.Parent == 0 {
			return c.New
		}
	}
	if len(x.parents[state]) == 0 {
		return ""
	}
	return climb(x, x.parents[state][0])
}
