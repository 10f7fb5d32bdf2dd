package story_test

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"regexp"
	"strings"
	"sync"
	"testing"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/pagetest"
	"rodlore/catalogue/pages/story"
	"rodlore/models"
)

// released are the demo's models that went on sale.
var released = []string{"ferry-8", "groyne-13", "rill-7", "skerry-10", "wrack-9"}

// tell tells a story that must be there.
func tell(t testing.TB, r *catalogue.Range, model string, o story.Options) *document.Document {
	t.Helper()
	d, err := story.Of(t.Context(), r, model, o)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// html and pdf write a document, and text what it says as plain text.
func html(t testing.TB, d *document.Document) []byte { return written(t, d.HTML) }
func pdf(t testing.TB, d *document.Document) []byte  { return written(t, d.PDF) }

func text(t testing.TB, d *document.Document) string {
	return string(written(t, d.Markdown))
}

func written(t testing.TB, write func(io.Writer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

var readers = []story.Reader{story.Customer, story.Workshop}

// site are the pages of the whole demo, and the stories for the workshop.
func site(t testing.TB) map[string][]byte {
	t.Helper()
	once.Do(func() {
		r := open(t, demoSource(t, nil))
		pages, err := story.Site(t.Context(), r, story.Options{Reader: story.Customer})
		if err != nil {
			t.Fatal(err)
		}
		for _, model := range append([]string{"overfall-11"}, released...) {
			pages["workshop-"+model+".html"] = html(t, tell(t, r, model, story.Options{Reader: story.Workshop}))
		}
		everything = pages
	})
	return maps.Clone(everything)
}

// everything is made once for all tests.
var (
	once       sync.Once
	everything map[string][]byte
)

func TestPagesAreValid(t *testing.T) {
	pages := site(t)
	delete(pages, "style.css")
	pagetest.Validate(t, pages)
}

// kinds are a page of every kind, and of a reel on top and below.
var kinds = []string{"index.html", "skerry-10.html", "groyne-13.html", "workshop-skerry-10.html"}

func TestPagesAreAccessible(t *testing.T) {
	b := pagetest.Open(t, site(t))
	for _, page := range kinds {
		b.Accessible(t, page)
	}
}

// No page is wider than its screen, and no letter of a picture is lost,
// whatever the font.
func TestPagesInABrowser(t *testing.T) {
	b := pagetest.Open(t, site(t))
	for _, page := range kinds {
		b.Lettered(t, page)
	}
}

// The figures to reach: a page under 250 kB, a model under 150 kB but for photographs.
func TestPagesAreLight(t *testing.T) {
	perModel := map[string]int{}
	for name, page := range site(t) {
		if len(page) > 250e3 {
			t.Errorf("%s has %d bytes", name, len(page))
		}
		page = photo.ReplaceAll(page, nil)
		for _, model := range released {
			if strings.HasPrefix(name, model) {
				perModel[model] += len(page)
			}
		}
	}
	for model, bytes := range perModel {
		if bytes > 150e3 {
			t.Errorf("%s has %d bytes", model, bytes)
		}
	}
}

var (
	address = regexp.MustCompile(`(?i)(https?:|//[a-z])`)
	photo   = regexp.MustCompile(`"data:image/jpeg[^"]*"`)
	// own is what stands in the page itself, and how its maker is reached.
	own     = regexp.MustCompile(`(?:href|src)="(?:data:[^"]*|tel:01632960147|mailto:rods@tarrowmouth\.example|https://tarrowmouth\.example)"`)
	anchors = regexp.MustCompile(`(?:href|src)="([^"]*)"`)
	names   = regexp.MustCompile(`\bid="([^"]*)"`)
)

// No page asks for anything of another machine, and every link leads somewhere.
func TestLinks(t *testing.T) {
	pages := site(t)
	for name, page := range pages {
		page = own.ReplaceAll(page, nil)
		if found := address.Find(page); found != nil {
			t.Errorf("%s names another machine: %q", name, found)
		}
		seen := map[string]bool{}
		for _, m := range names.FindAllSubmatch(page, -1) {
			if seen[string(m[1])] {
				t.Errorf("%s: two places are named %s", name, m[1])
			}
			seen[string(m[1])] = true
		}
		for _, m := range anchors.FindAllSubmatch(page, -1) {
			target := string(m[1])
			place, here := strings.CutPrefix(target, "#")
			if here && !seen[place] || !here && pages[strings.TrimPrefix(target, "./")] == nil {
				t.Errorf("%s: %q leads nowhere", name, target)
			}
		}
	}
}

// What is the workshop's own stands in its story and in no customer's.
func TestCustomersReadNothingOfTheWorkshop(t *testing.T) {
	r := open(t, demoSource(t, nil))
	own := []string{"EUR", "parts cost", "bench time", "load limit", "joint 8 mm shorter", "over the limit", "What customers said"}
	customer := text(t, tell(t, r, "skerry-10", story.Options{Reader: story.Customer}))
	workshop := text(t, tell(t, r, "skerry-10", story.Options{Reader: story.Workshop}))
	for _, word := range own {
		if strings.Contains(customer, word) {
			t.Errorf("customers read of %q", word)
		}
		if !strings.Contains(workshop, word) && word != "over the limit" {
			t.Errorf("the workshop does not read of %q", word)
		}
	}
}

// A customer's PDF has two to four pages and says where every ring stands.
func TestPDF(t *testing.T) {
	r := open(t, demoSource(t, nil))
	for _, model := range released {
		for _, paper := range []document.Paper{document.A4, document.Letter} {
			t.Run(model+" "+paper.Name, func(t *testing.T) {
				file := pdf(t, tell(t, r, model, story.Options{Reader: story.Customer, Print: true, Paper: paper}))
				if n := len(pagetest.PDFPages(t, file)); n < 2 || n > 4 {
					t.Errorf("%d pages", n)
				}
				said := pagetest.PDFText(t, file)
				for _, ring := range releasedSpec(t, r, model).Rings {
					if place := fmt.Sprintf("%.0f", 1e3*float64(ring.At.Value)); !strings.Contains(said, place) {
						t.Errorf("the ring at %s mm is not in it", place)
					}
				}
			})
		}
	}
}

func releasedSpec(t testing.TB, r *catalogue.Range, model string) *models.Spec {
	t.Helper()
	rev, err := r.Find(model, "2026")
	if err != nil {
		t.Fatal(err)
	}
	return rev.Spec()
}

// The same range gives the same bytes.
func TestStoriesAreDeterministic(t *testing.T) {
	for _, onPaper := range []bool{false, true} {
		for _, reader := range readers {
			o := story.Options{Reader: reader, Print: onPaper}
			a := tell(t, open(t, demoSource(t, nil)), "wrack-9", o)
			b := tell(t, open(t, demoSource(t, nil)), "wrack-9", o)
			if !bytes.Equal(html(t, a), html(t, b)) || !bytes.Equal(pdf(t, a), pdf(t, b)) {
				t.Errorf("two stories for %s differ", reader)
			}
		}
	}
}
