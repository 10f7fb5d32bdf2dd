package catalogue

import (
	"iter"
	"slices"
)

// course is a value that every saved state has, such as what a model was, kept only
// where it may differ from that of the state's only parent: so following a model
// takes as long as it has edits, and not as there are states.
type course[T any] struct {
	x      *index
	keys   []int // of the states where it turns, in order
	values []T   // from each of these on
}

// newCourse is a course that may turn at the edits given and where runs begin.
func newCourse[T any](x *index, turns ...edits) course[T] {
	c := course[T]{x: x}
	for i := range x.heads {
		c.keys = append(c.keys, x.key(x.heads[i]))
	}
	for _, list := range turns {
		for _, e := range list {
			c.keys = append(c.keys, x.key(e.state))
		}
	}
	slices.Sort(c.keys)
	c.keys = slices.Compact(c.keys)
	c.values = make([]T, len(c.keys))
	return c
}

// at is the value in a state; the zero one where there is no such state.
func (c course[T]) at(state int) (value T) {
	if state < 0 || len(c.keys) == 0 {
		return value
	}
	// The head of a run has its greatest key, so that there always is one.
	i, _ := slices.BinarySearch(c.keys, c.x.key(state))
	return c.values[i]
}

// places are the states at which the course may turn, newest first.
func (c course[T]) places() []int {
	places := make([]int, len(c.keys))
	for i, key := range c.keys {
		places[i] = key % len(c.x.States)
	}
	slices.Sort(places)
	return places
}

// oldestFirst goes through the turns, parents before their children, each with the
// value to be set.
func (c course[T]) oldestFirst() iter.Seq2[int, *T] {
	return func(yield func(int, *T) bool) {
		for _, state := range slices.Backward(c.places()) {
			i, _ := slices.BinarySearch(c.keys, c.x.key(state))
			if !yield(state, &c.values[i]) {
				return
			}
		}
	}
}

// findRuns parts the states into runs, in each of which every state but the oldest,
// its head, has the one before it as its only parent and is that one's only child.
// What the working files started from is the newest of its run.
func (x *index) findRuns() {
	children := make([]int, len(x.States))
	for _, parents := range x.parents {
		for _, p := range parents {
			children[p]++
		}
	}
	head := x.head()
	x.run = make([]int, len(x.States))
	for i := range slices.Backward(x.States) {
		if p := x.parents[i]; len(p) == 1 && children[p[0]] == 1 && p[0] != head {
			x.run[i] = x.run[p[0]]
			continue
		}
		x.run[i] = len(x.heads)
		x.heads = append(x.heads, i)
	}
	slices.Reverse(x.heads)
	for i := range x.run {
		x.run[i] = len(x.heads) - 1 - x.run[i]
	}
}

// key puts the states into an order in which those of a run stand together, newest
// first.
func (x *index) key(state int) int { return x.run[state]*len(x.States) + state }
