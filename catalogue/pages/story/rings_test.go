package story_test

import (
	"strings"
	"testing"

	"rodlore/catalogue/pages/story"
)

// A rod is held against itself with as many like rings as readers have, and what either
// count does better is told, so that nobody reads half of a comparison; the one that the
// range had is told with its parts besides.
func TestRingsAreComparedBothWays(t *testing.T) {
	told := text(t, tell(t, open(t, demoSource(t, nil)), "skerry-10", story.Options{Reader: story.Customer}))
	for head, item := range map[string]string{
		"What our 6 do better than 9": "g lighter", "What 9 do better than our 6": "The most loaded ring bears less",
		"What our 6 do better than 5": "", "What 5 do better than our 6": "recovers faster",
	} {
		_, list, found := strings.Cut(told, "**"+head+"**")
		list, _, _ = strings.Cut(strings.TrimSpace(list), "\n\n")
		if !found || !strings.Contains(list, item) {
			t.Errorf("%s: it says %q", head, list)
		}
	}
	if !strings.Contains(told, "against our rod of 2021 with 9: It is 25.2\u00a0g lighter") {
		t.Error("the rod of 2021 is not told with its parts")
	}
}

// With the reel on top it is told how many rings keep the line off the blank, and what
// one more costs.
func TestRingsOnTop(t *testing.T) {
	told := text(t, tell(t, open(t, demoSource(t, nil)), "groyne-13", story.Options{Reader: story.Customer}))
	for _, want := range []string{"the line would lie on the blank; we fit", "One more ring would add"} {
		if !strings.Contains(told, want) {
			t.Errorf("it does not say %q", want)
		}
	}
}

// A rod of four sections has three joints.
func TestJointsAreCounted(t *testing.T) {
	told := text(t, tell(t, open(t, demoSource(t, nil)), "ferry-8", story.Options{Reader: story.Customer}))
	if !strings.Contains(told, "- Three joints were changed.") {
		t.Error("the joints of the Ferry 8 are not counted")
	}
}
