package story_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"strings"
	"testing"

	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/pagetest"
	"rodlore/catalogue/pages/story"
)

const notes = `pictures:
  - {file: rock.jpg, shows: the rod on wet rock, release: 2026}
  - {file: Rock.JPG, shows: "a bass & its rod"}
  - {file: rock.jpg, shows: nine rings, release: 2021}
`

// faced is the demo with photographs of nothing but noise, which fills whatever room
// there is.
func faced(t testing.TB) *saved {
	t.Helper()
	noise := image.NewRGBA(image.Rect(0, 0, 900, 600))
	r := rand.New(rand.NewPCG(3, 4))
	for i := range noise.Pix {
		noise.Pix[i] = uint8(r.Uint32())
	}
	var photo bytes.Buffer
	if err := jpeg.Encode(&photo, noise, nil); err != nil {
		t.Fatal(err)
	}
	s := demoSource(t, nil)
	s.files["notes/skerry-10.yaml"] = []byte(notes)
	s.files["pictures/rock.jpg"], s.files["pictures/Rock.JPG"] = photo.Bytes(), photo.Bytes()
	return s
}

// A page shows who made the rod and how it looks, within the size that it may have,
// and stays valid and accessible.
func TestPageWithPhotographs(t *testing.T) {
	pages, err := story.Site(t.Context(), open(t, faced(t)), story.Options{Reader: story.Customer})
	if err != nil {
		t.Fatal(err)
	}
	page := string(pages["skerry-10.html"])
	for _, want := range []string{
		`alt="a bass &amp; its rod"`, `alt="the rod on wet rock"`, `alt="nine rings"`, `alt="Tarrowmouth Rods"`, "image/svg+xml",
		`href="tel:01632960147"`, `href="mailto:rods@tarrowmouth.example"`, `href="https://tarrowmouth.example"`,
	} {
		if !strings.Contains(page, want) {
			t.Errorf("there is no %s", want)
		}
	}
	if n := strings.Count(page, "data:image/jpeg"); n != 3 || len(page) > 250e3 {
		t.Errorf("%d photographs in %d bytes", n, len(page))
	}
	if !strings.Contains(string(pages["style.css"]), "--accent:#1c4f5a") {
		t.Error("the colour is missing")
	}
	if n := len(html(t, tell(t, open(t, faced(t)), "skerry-10", story.Options{Reader: story.Workshop}))); n > 250e3 {
		t.Errorf("%d bytes for the workshop", n)
	}
	b := pagetest.Open(t, pages)
	b.Accessible(t, "skerry-10.html")
	b.Lettered(t, "skerry-10.html")
	delete(pages, "style.css")
	pagetest.Validate(t, pages)
}

// A card is one page, whatever the paper, with five figures of then and now and the maker.
func TestCard(t *testing.T) {
	r := open(t, faced(t))
	for _, model := range released {
		for _, paper := range []document.Paper{document.A5, document.A6} {
			d, err := story.Card(t.Context(), r, model, story.Options{Paper: paper})
			if err != nil {
				t.Fatal(err)
			}
			if n := len(pagetest.PDFPages(t, pdf(t, d))); n != 1 {
				t.Errorf("%s has %d pages of %s", model, n, paper.Name)
			}
			said := text(t, d)
			if n := strings.Count(said, "\n| "); n != 2+5 {
				t.Errorf("%s has %d lines in its table:\n%s", model, n, said)
			}
			for _, want := range []string{"01632", "overhead lines", "Tarrowmouth Rods"} {
				if !strings.Contains(said, want) {
					t.Errorf("%s: no %q", model, want)
				}
			}
		}
	}
}

// Casts that were paced out stand where it is asked how far the rod casts, and it is not
// said that there are none.
func TestFar(t *testing.T) {
	s := demoSource(t, nil)
	before := text(t, tell(t, open(t, s), "wrack-9", story.Options{Reader: story.Customer}))
	s.files["heard/wrack-9.yaml"] = append(s.files["heard/wrack-9.yaml"],
		"  - {release: 2026, date: 2026-06-01, said: \"20 g, paced out\", cast: 84 m, show: true}\n  - {release: 2026, date: 2026-06-02, said: hidden, cast: 99 m}\n"...)
	after := text(t, tell(t, open(t, s), "wrack-9", story.Options{Reader: story.Customer}))
	const none = "We have no measured casts"
	if !strings.Contains(before, none) || strings.Contains(after, none) || !strings.Contains(after, "**84 m:** 20 g, paced out (with the rod of 2026)") {
		_, after, _ = strings.Cut(after, "## Does it cast")
		t.Errorf("%.400s", after)
	}
	if strings.Contains(after, "99 m") || strings.Contains(after, "hidden") {
		t.Error("customers read what they may not")
	}
}
