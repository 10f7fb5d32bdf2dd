package story_test

import (
	"bytes"
	"fmt"
	"io"
	"testing"
	"time"

	"rodlore/catalogue/cache"
	"rodlore/catalogue/pages/pagetest"
	"rodlore/catalogue/pages/story"
	"rodlore/cmd/rodlore/demo"
)

// longSource is the demo with so many releases more of the Skerry 10, each with
// its butt ring three millimetres further up.
func longSource(t testing.TB, more int) *saved {
	t.Helper()
	s := demoSource(t, nil)
	const file, place = "models/skerry-10.yaml", "at: 1790 mm"
	for i := range more {
		src := bytes.Replace(s.files[file], []byte(place), fmt.Appendf(nil, "at: %d mm", 1790-3*(i+1)), 1)
		if i > 0 {
			src = bytes.Replace(s.files[file], fmt.Appendf(nil, "at: %d mm", 1790-3*i), fmt.Appendf(nil, "at: %d mm", 1790-3*(i+1)), 1)
		}
		if bytes.Equal(src, s.files[file]) {
			t.Fatal("the butt ring of the demo's Skerry 10 stands elsewhere")
		}
		s.save(demo.State{
			When: time.Date(2027+i, 1, 15, 9, 0, 0, 0, time.UTC), Author: "Maker <maker@example.org>",
			Why: "Skerry: butt ring up", Tell: "The butt ring a touch further up.",
			Files: map[string][]byte{file: src}, Releases: []demo.Release{{Model: "skerry-10", Label: fmt.Sprint(2027 + i)}},
		})
	}
	return s
}

// Twenty releases stay a few sheets of paper and a page of a fair weight, beside which
// there is room for photographs.
func TestTwentyReleases(t *testing.T) {
	s := longSource(t, 14)
	delete(s.files, "notes/skerry-10.yaml")
	r := open(t, s)
	if n := len(pagetest.PDFPages(t, pdf(t, tell(t, r, "skerry-10", story.Options{Reader: story.Customer, Print: true})))); n > 6 {
		t.Errorf("%d pages", n)
	}
	if n := len(html(t, tell(t, r, "skerry-10", story.Options{Reader: story.Workshop}))); n > 250e3 {
		t.Errorf("%d bytes", n)
	}
}

// BenchmarkStory tells a model of twenty releases, with nothing worked out before
// and with the figures kept.
func BenchmarkStory(b *testing.B) {
	src := longSource(b, 14)
	for _, reader := range readers {
		for _, tell := range []bool{false, true} {
			form := "screen"
			if tell {
				form = "paper"
			}
			o := story.Options{Reader: reader, Print: tell}
			b.Run(fmt.Sprintf("%s/%s/cold", reader, form), func(b *testing.B) { benchmarkStory(b, src, nil, o) })
			b.Run(fmt.Sprintf("%s/%s/warm", reader, form), func(b *testing.B) {
				benchmarkStory(b, src, cache.Open(b.TempDir(), nil, "bench"), o)
			})
		}
	}
}

func benchmarkStory(b *testing.B, src *saved, kept *cache.Folder, o story.Options) {
	tellOnce := func() {
		r := open(b, src)
		if kept != nil {
			r.Keep(kept)
		}
		d := tell(b, r, "skerry-10", o)
		write := d.HTML
		if o.Print {
			write = d.PDF
		}
		if err := write(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
	tellOnce()
	for b.Loop() {
		tellOnce()
	}
}

// BenchmarkSite makes the pages of the demo with nothing worked out before.
func BenchmarkSite(b *testing.B) {
	src := demoSource(b, nil)
	for b.Loop() {
		if _, err := story.Site(b.Context(), open(b, src), story.Options{Reader: story.Customer}); err != nil {
			b.Fatal(err)
		}
	}
}
