package story_test

import (
	"strings"
	"testing"
	"time"

	"rodlore/catalogue/pages/story"
	"rodlore/cmd/rodlore/demo"
)

// A release in which one file differs is told by what it did to the rod: what was
// paid for a part is no matter of it, and a colour is told once.
func TestReleaseOfOneEdit(t *testing.T) {
	const rill, parts = "models/rill-7.yaml", "parts.yaml"
	tests := []struct {
		name, file, old, new string
		says, not            string
	}{
		// The same rod under one more label is told once, as what it was.
		{"a price", parts, "price: 0.65", "price: 2.95", "A different reel seat.", "SN-4"},
		{"a mass", parts, "mass: 0.13 g", "mass: 0.19 g", "The 4 mm rings are heavier.", "price"},
		{"a colour", rill, "colour: olive", "colour: wet slate", "The blank is wet slate instead of olive.", "whippings"},
		{"a grip", rill, "from: 84 mm", "from: 96 mm", "The handle is arranged differently.", "whippings"},
		{"the hold", rill, "handle:", "held: {to: 250 mm}\nhandle:", "You will see no difference at a glance.", "The handle"},
		{"a varnish", rill, "varnish: one coat", "varnish: two coats", "The whippings or their varnish were changed.", "wet slate"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			whole := text(t, tell(t, open(t, rillOf2027(t, test.file, test.old, test.new)), "rill-7", story.Options{Reader: story.Customer}))
			_, told, _ := strings.Cut(whole, "### 2027")
			told, _, _ = strings.Cut(strings.ReplaceAll(told, "\u00a0", " "), "Every figure")
			if !strings.Contains(told, test.says) || strings.Contains(told, test.not) {
				t.Errorf("it says %s", told)
			}
			if test.name == "a price" && strings.Contains(whole, "SN-4 itself") {
				t.Error("the picture of the releases names the part")
			}
		})
	}
}

// Where no figure changed, what is seen is not passed over as nothing.
func TestOnlyTheLooksChanged(t *testing.T) {
	src := rillOf2027(t, "models/rill-7.yaml", "colour: olive", "colour: wet slate")
	told := text(t, tell(t, open(t, src), "rill-7", story.Options{Reader: story.Customer, From: "2026"}))
	told, _, _ = strings.Cut(told, "## How it bends")
	if !strings.Contains(told, "The blank is wet slate instead of olive.") || strings.Contains(told, "nothing changed") {
		t.Errorf("it says %s", told)
	}
}

// rillOf2027 is the demo with one more release of the Rill 7, for which one thing
// was edited.
func rillOf2027(t testing.TB, file, old, now string) *saved {
	t.Helper()
	src := demoSource(t, nil)
	was := string(src.files[file])
	is := strings.Replace(was, old, now, 1)
	if is == was {
		t.Fatalf("%s has no %q", file, old)
	}
	src.save(demo.State{
		When: time.Date(2027, 1, 10, 9, 0, 0, 0, time.UTC), Files: map[string][]byte{file: []byte(is)},
		Releases: []demo.Release{{Model: "rill-7", Label: "2027"}},
	})
	return src
}
