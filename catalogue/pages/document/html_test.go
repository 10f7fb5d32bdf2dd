package document

import (
	"regexp"
	"strings"
	"testing"

	"rodlore/catalogue/pages/pagetest"
)

func TestHTMLIsValidAndAccessible(t *testing.T) {
	pages := map[string][]byte{
		"sample.html": written(t, sample().HTML),
		"plain.html":  written(t, (&Document{Title: "Plain", Blocks: []Block{Paragraph(Plain("Nothing else."))}}).HTML),
	}
	pagetest.Validate(t, pages)
	b := pagetest.Open(t, pages)
	for name := range pages {
		b.Accessible(t, name)
	}
}

func TestHTMLNeedsNoOtherFile(t *testing.T) {
	page := string(written(t, sample().HTML))
	for _, what := range []string{"http:", "https:", "src=", "<link", "@import", "url("} {
		if strings.Contains(page, what) {
			t.Errorf("%q is in the page", what)
		}
	}
}

func TestHTMLNamesHeadings(t *testing.T) {
	page := string(written(t, sample().HTML))
	var ids []string
	for _, m := range regexp.MustCompile(`<h\d id="([^"]+)">`).FindAllStringSubmatch(page, -1) {
		ids = append(ids, m[1])
	}
	if got, want := strings.Join(ids, " "), "rings rings-1 joints bench left right"; got != want {
		t.Errorf("headings are named %s, want %s", got, want)
	}
	for _, link := range []string{`<a href="#rings">Rings</a>`, `<a href="#joints">Joints</a>`} {
		if !strings.Contains(page, link) {
			t.Errorf("the contents lack %s", link)
		}
	}
}

func TestScriptStaysWhole(t *testing.T) {
	d := &Document{Title: "T", Script: `document.title = "</script>"`}
	b := pagetest.Open(t, map[string][]byte{"page.html": written(t, d.HTML)})
	b.Show(t, "page.html", pagetest.Views[0])
	if title := b.Ask(t, "document.title"); title != "</script>" {
		t.Errorf("the script set the title %q", title)
	}
}

// The phone does not scroll sideways; what is wider does, by the keyboard too.
func TestWideTableScrolls(t *testing.T) {
	wide := Table{Columns: make([]Column, 12)}
	wide.Add(strings.Split("1234567 mm "+strings.Repeat("1234567 ", 11), " ")[:12]...)
	page := written(t, (&Document{Title: "Wide", Blocks: []Block{wide}}).HTML)
	b := pagetest.Open(t, map[string][]byte{"page.html": page})
	b.Accessible(t, "page.html")
	b.Show(t, "page.html", pagetest.View{Width: 360})
	if got := b.Ask(t, `(() => { const s = document.querySelector(".scroll"); s.focus();
		return String(s === document.activeElement && s.scrollWidth > s.clientWidth) })()`); got != "true" {
		t.Errorf("a wide table scrolls and takes the focus: %s", got)
	}
}

func TestStyleSheetBesideThePage(t *testing.T) {
	d := &Document{Title: "Rod", Style: "style.css"}
	page := string(written(t, d.HTML))
	if !strings.Contains(page, `<link rel="stylesheet" href="style.css">`) || strings.Contains(page, "<style>") {
		t.Errorf("the page has its style in it:\n%s", page)
	}
	whole := string(written(t, (&Document{Title: "Rod"}).HTML))
	if !strings.Contains(whole, d.CSS()) || strings.Contains(whole, "<link") {
		t.Error("a page that names no style sheet has none in it")
	}
}
