package say

import (
	"errors"
	"testing"

	"rodlore/models"
)

// FuzzWords reads anything as words.yaml. What is read can say a sentence.
func FuzzWords(f *testing.F) {
	for _, text := range []string{string(File()), "language: de\n", "site:\n  title: \"{maker}\"\n", "site:\n  title: {one: a, other: b}\n", "a: {b: {c: x}}\n", "site: [", "language: \"\\e[2J\"\n", "language: \u202e\n"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		words, err := Read("words.yaml", src)
		if err != nil {
			var faults models.Faults
			if !errors.As(err, &faults) {
				t.Fatalf("no faults but %v", err)
			}
			return
		}
		if words.Say("site.title", "maker", "M") == "" {
			t.Error("a page has no title")
		}
	})
}
