package story_test

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"

	"rodlore/catalogue/pages/pagetest"
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

// What is folded on a screen is open on the paper that the browser prints.
func TestFoldsOpenInPrint(t *testing.T) {
	b := pagetest.Open(t, site(t))
	b.Show(t, "wrack-9.html", pagetest.Views[2])
	if said := pagetest.PDFText(t, b.Printed(t)); !strings.Contains(said, "moment of inertia") {
		t.Error("the table of all figures is not printed")
	}
}
