package spelling_test

import (
	"testing"

	"rodlore/models/spelling"
)

func TestDidYouMean(t *testing.T) {
	known := []string{"skerry-10", "long-drift", "T-6"}
	for word, want := range map[string]string{
		"skery-10":   "; did you mean skerry-10?",
		"Long-Drift": "; did you mean long-drift?",
		"logn-drift": "; did you mean long-drift?",
		"T-8":        "; did you mean T-6?",
		"whatever":   "",
		"":           "",
	} {
		if got := spelling.DidYouMean(word, known); got != want {
			t.Errorf("%q: got %q, want %q", word, got, want)
		}
	}
}
