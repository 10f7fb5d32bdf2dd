package story_test

import (
	"strings"
	"testing"

	"rodlore/catalogue/pages/story"
)

// A rod is held against one with more rings and one with fewer, and what either
// does better is told, so that nobody reads half of a comparison.
func TestRingsAreComparedBothWays(t *testing.T) {
	told := text(t, tell(t, open(t, demoSource(t, nil)), "skerry-10", story.Options{Reader: story.Customer}))
	for head, item := range map[string]string{
		"What 6 rings do better than 8": "g lighter", "What 8 rings do better than 6": "The most loaded ring bears less",
		"What 6 rings do better than 5": "The most loaded ring bears less", "What 5 rings do better than 6": "g lighter",
	} {
		_, list, _ := strings.Cut(told, head+"\n")
		list, _, _ = strings.Cut(strings.TrimSpace(list), "\n\n")
		if !strings.Contains(list, item) {
			t.Errorf("%s: it says %q", head, list)
		}
	}
}

// A rod of four sections has three joints.
func TestJointsAreCounted(t *testing.T) {
	told := text(t, tell(t, open(t, demoSource(t, nil)), "ferry-8", story.Options{Reader: story.Customer}))
	if !strings.Contains(told, "- 3 joints were changed.") {
		t.Error("the joints of the Ferry 8 are not counted")
	}
}
