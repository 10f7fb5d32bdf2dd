package story_test

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"

	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/pagetest"
	"rodlore/catalogue/pages/story"
)

// reading is what a customer reads of a page before anything is unfolded: text by text,
// and how many screens of 800 pixels it takes.
const reading = `(() => {
	const folded = e => {
		const d = e.closest("details:not([open])");
		return d && !(e.closest("summary")?.parentElement === d && !d.parentElement.closest("details:not([open])"));
	};
	const texts = [...document.querySelectorAll("h1,h2,h3,p,li,summary,label,button,svg text,th,td")]
		.filter(e => !folded(e) && !e.querySelector("p,li")).map(e => e.textContent.trim()).filter(t => t);
	return JSON.stringify({texts, screens: document.documentElement.scrollHeight / 800});
})()`

var letters = regexp.MustCompile(`\pL`)

// Before the folds a customer reads at most 900 words on eight screens of a phone, and
// the sentences have fewer than fifteen words on average. What is folded is not shown.
func TestPageIsShort(t *testing.T) {
	b := pagetest.Open(t, site(t))
	b.Show(t, "skerry-10.html", pagetest.View{Width: 360})
	var read struct {
		Texts   []string
		Screens float64
	}
	if err := json.Unmarshal([]byte(b.Ask(t, reading)), &read); err != nil {
		t.Fatal(err)
	}
	words, told, ends := 0, 0, 0
	for _, text := range read.Texts {
		n := 0
		for _, w := range strings.Fields(text) {
			if letters.MatchString(w) {
				n++
			}
		}
		words += n
		if dots := len(regexp.MustCompile(`[.?!](\s|$)`).FindAllString(text, -1)); dots > 0 {
			told, ends = told+n, ends+dots
		}
	}
	t.Logf("%d words, %.2f screens, %.1f words a sentence", words, read.Screens, float64(told)/float64(ends))
	if words > 900 || words < 300 {
		t.Errorf("%d words", words)
	}
	if read.Screens > 8 {
		t.Errorf("%.2f screens", read.Screens)
	}
	if mean := float64(told) / float64(ends); mean >= 15 {
		t.Errorf("%.1f words a sentence", mean)
	}
}

// The handle brings the rod of then down onto that of now by the keyboard too, and the
// player runs in true time and stops; a page for people whom motion troubles has the
// stills and no player.
func TestPageMoves(t *testing.T) {
	b := pagetest.Open(t, site(t))
	b.Show(t, "skerry-10.html", pagetest.Views[0])
	moved := func() string { return b.Ask(t, `document.getElementById("now-was").getAttribute("transform") || ""`) }
	before := moved()
	b.Ask(t, `document.getElementById("now-slide").focus(); ""`)
	b.Press(t, kb.ArrowRight)
	if after := moved(); after == before {
		t.Errorf("the rod stays at %q", after)
	}
	const state = `JSON.stringify([document.getElementById("swing-play").textContent,
		document.getElementById("swing-rod-0").getAttribute("d"), document.getElementById("swing-dot-1").getAttribute("cx")])`
	still := b.Ask(t, state)
	b.Ask(t, `document.getElementById("swing-play").focus(); ""`)
	b.Press(t, kb.Enter)
	playing := b.Ask(t, `new Promise(done => setTimeout(() => done(`+state+`), 400))`)
	if !strings.Contains(playing, "Pause") || playing == still {
		t.Errorf("played it shows %s", playing)
	}
	b.Press(t, kb.Enter)
	paused := b.Ask(t, state)
	if later := b.Ask(t, `new Promise(done => setTimeout(() => done(`+state+`), 200))`); later != paused || !strings.Contains(later, "Play") {
		t.Errorf("stopped it goes on from %s to %s", paused, later)
	}
	b.Show(t, "skerry-10.html", pagetest.View{Width: 360, Still: true})
	if found := b.Ask(t, `String(document.getElementById("swing-play")) + String(document.getElementById("swing-rod-0") !== null)`); found != "nulltrue" {
		t.Errorf("where nothing may move there is %s", found)
	}
}

// A browser prints a page on no more sheets than its PDF has. What a customer may unfold
// is printed where it was unfolded, and all of the workshop's.
func TestPrintedPages(t *testing.T) {
	r := open(t, demoSource(t, nil))
	pages := site(t)
	card, err := story.Card(t.Context(), r, "skerry-10", story.Options{Paper: document.A6})
	if err != nil {
		t.Fatal(err)
	}
	pages["card.html"] = html(t, card)
	b := pagetest.Open(t, pages)
	printed := func(page, unfold string) string {
		b.Show(t, page, pagetest.Views[2])
		b.Ask(t, unfold+`""`)
		return pagetest.PDFText(t, b.Printed(t))
	}
	sheets := func(page string, d *document.Document) {
		t.Helper()
		b.Show(t, page, pagetest.Views[2])
		paper, file := len(pagetest.PDFPages(t, b.Printed(t))), len(pagetest.PDFPages(t, pdf(t, d)))
		if paper > file {
			t.Errorf("%s prints on %d sheets, its PDF on %d", page, paper, file)
		}
	}
	sheets("card.html", card)
	for _, model := range released {
		sheets(model+".html", tell(t, r, model, story.Options{Reader: story.Customer, Print: true}))
	}
	sheets("workshop-skerry-10.html", tell(t, r, "skerry-10", story.Options{Reader: story.Workshop, Print: true}))
	const folded = "moment of inertia"
	for page, unfold := range map[string]string{"workshop-skerry-10.html": "", "skerry-10.html": `document.querySelectorAll("details").forEach(d => d.open = true); `} {
		if said := printed(page, unfold); !strings.Contains(said, folded) {
			t.Errorf("%s is printed without the table of all figures", page)
		}
	}
	if said := printed("skerry-10.html", ""); strings.Contains(said, folded) || !strings.Contains(said, "A snagged line") || strings.Contains(said, "Weight hung from the tip:") {
		t.Errorf("what is folded is printed, a caution is not, or a slider is:\n%s", said)
	}
}
