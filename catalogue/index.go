package catalogue

import (
	"maps"
	"slices"
	"strings"
	"sync"
)

// index is the saved states of a range, gone through once for all of its models.
// A state goes by its place in the log, in which children stand before their
// parents.
type index struct {
	*Log
	place   map[string]int   // of each state in the log
	parents [][]int          // of each state
	heads   []int            // states that begin a run, newest first
	run     []int            // that each state is in, by the place of its head in heads
	edits   map[string]edits // by path
	tags    map[string][]Tag // by the model that they name, in the order of their times
	onHead  []bool           // states that the working files rest on
	// savedFiles are the range's files in the state that the working files started from:
	// blobs by path, not to be altered.
	savedFiles func() map[string]string

	parts, materials course[string] // what these files were
}

// edits are where one file differs from what it was in a parent, newest first.
type edits []edit

type edit struct {
	state int
	*Change
}

func newIndex(log *Log) *index {
	x := &index{
		Log: log, place: make(map[string]int, len(log.States)), parents: make([][]int, len(log.States)),
		edits: map[string]edits{}, tags: map[string][]Tag{},
	}
	for i := range log.States {
		x.place[log.States[i].ID] = i
	}
	for i := range log.States {
		st := &log.States[i]
		for _, p := range st.Parents {
			x.parents[i] = append(x.parents[i], x.place[p])
		}
		for j := range st.Changes {
			c := &st.Changes[j]
			x.edits[c.Path] = append(x.edits[c.Path], edit{i, c})
		}
	}
	for _, t := range slices.SortedStableFunc(slices.Values(log.Tags), func(a, b Tag) int { return a.When.Compare(b.When) }) {
		if model, _, ok := strings.Cut(t.Name, "/"); ok {
			x.tags[model] = append(x.tags[model], t)
		}
	}
	x.savedFiles = sync.OnceValue(x.filesOfHead)
	x.findRuns()
	x.onHead = x.ancestry(log.Head)
	x.parts, x.materials = x.held(partsFile), x.held(materialsFile)
	return x
}

// held is what a file was, by its blob: what it was in the state's first parent, but
// for the edits against that one. It is empty for a file that never was.
func (x *index) held(path string) course[string] {
	left := x.edits[path]
	if len(left) == 0 {
		return course[string]{}
	}
	held := newCourse[string](x, left)
	for i, blob := range held.oldestFirst() {
		if parents := x.parents[i]; len(parents) > 0 {
			*blob = held.at(parents[0])
		}
		for ; len(left) > 0 && left[len(left)-1].state >= i; left = left[:len(left)-1] {
			if last := left[len(left)-1]; last.Parent == 0 {
				*blob = last.New
			}
		}
	}
	return held
}

// at is the element of a list by states; the zero one where there is no such state.
func at[T any](list []T, state int) (element T) {
	if state >= 0 && state < len(list) {
		element = list[state]
	}
	return element
}

// placeOf is the place of a state, -1 where there is none.
func (x *index) placeOf(state string) int {
	if i, ok := x.place[state]; ok {
		return i
	}
	return -1
}

// head is the place of the state that the working files started from.
func (x *index) head() int { return x.placeOf(x.Head) }

// ancestry is the set of states that those given rest on, with these.
func (x *index) ancestry(tips ...string) []bool {
	on := make([]bool, len(x.States))
	for _, tip := range tips {
		if i := x.placeOf(tip); i >= 0 {
			on[i] = true
		}
	}
	for i := range x.States {
		if on[i] {
			for _, p := range x.parents[i] {
				on[p] = true
			}
		}
	}
	return on
}

// line are the states that the working files rest on by first parents, newest
// first.
func (x *index) line() []*State {
	var line []*State
	for i := x.head(); i >= 0; {
		line = append(line, &x.States[i])
		if len(x.parents[i]) == 0 {
			break
		}
		i = x.parents[i][0]
	}
	return line
}

func (x *index) filesOfHead() map[string]string {
	files := map[string]string{}
	for _, st := range slices.Backward(x.line()) {
		for _, c := range st.Changes {
			if c.Parent == 0 {
				files[c.Path] = c.New
			}
		}
	}
	maps.DeleteFunc(files, func(_, blob string) bool { return blob == "" })
	return files
}
