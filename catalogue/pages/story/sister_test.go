package story_test

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"rodlore/catalogue/pages/story"
	"rodlore/cmd/rodlore/demo"
)

// The Skerry's own blank of a stiffer material bends in the same curve under as much
// more load as its modulus is higher, for the elastica hangs on F L² / (E I) alone
// (Euler 1744): 112 GPa for 96 GPa is 17 % more. With a ring fewer it is shown beside
// the Skerry; the Skerry, which has more rings than it, is not shown beside it.
func TestSister(t *testing.T) {
	s := demoSource(t, nil)
	const file, other = "models/skerry-10.yaml", "models/skerry-10-heavy.yaml"
	elder := append(slices.Clone(s.files[file]), "# and its heavier kin\n"...)
	sister := bytes.Replace(elder, []byte("name: Skerry 10"), []byte("name: Skerry 10 Heavy"), 1)
	sister = bytes.ReplaceAll(sister, []byte("material: carbon-std"), []byte("material: carbon-mid"))
	sister = regexp.MustCompile(`(?m)^  - \{at: 845 mm.*\n`).ReplaceAll(sister, nil)
	s.save(demo.State{
		When: time.Date(2027, 1, 15, 9, 0, 0, 0, time.UTC), Author: "Maker <maker@example.org>", Why: "a heavier one",
		Files:    map[string][]byte{file: elder, other: sister},
		Releases: []demo.Release{{Model: "skerry-10", Label: "2027"}, {Model: "skerry-10-heavy", Label: "2027"}},
	})
	r := open(t, s)
	said := text(t, tell(t, r, "skerry-10", story.Options{Reader: story.Customer}))
	for _, want := range []string{"### The Skerry 10 Heavy has fewer", "has 5 rings. It bends in the same curve and takes 17\u00a0% more weight"} {
		if !strings.Contains(said, want) {
			_, said, _ = strings.Cut(said, "## Why")
			t.Errorf("it does not say %q but\n%.700s", want, said)
		}
	}
	if said := text(t, tell(t, r, "skerry-10-heavy", story.Options{Reader: story.Customer})); strings.Contains(said, "has fewer") {
		t.Error("the one with fewer rings is told of the one with more")
	}
}
