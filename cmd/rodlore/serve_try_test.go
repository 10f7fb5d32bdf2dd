package main

import (
	"bytes"
	"fmt"
	"html"
	"maps"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp/kb"

	"rodlore/catalogue/pages/pagetest"
	"rodlore/catalogue/pages/screen"
)

var (
	inputs   = regexp.MustCompile(`<input type="(\w+)"[^>]* name="([^"]+)"[^>]* value="([^"]*)"`)
	selects  = regexp.MustCompile(`(?s)<select[^>]* name="([^"]+)".*?</select>`)
	selected = regexp.MustCompile(`<option value="([^"]*)" selected`)
)

// filled are the fields of a page as a browser would send them.
func filled(page string) url.Values {
	form := url.Values{}
	for _, m := range inputs.FindAllStringSubmatch(page, -1) {
		form.Set(html.UnescapeString(m[2]), html.UnescapeString(m[3]))
	}
	for _, m := range selects.FindAllStringSubmatch(page, -1) {
		if chosen := selected.FindStringSubmatch(m[0]); chosen != nil {
			form.Set(html.UnescapeString(m[1]), html.UnescapeString(chosen[1]))
		}
	}
	return form
}

// tried sends the form of a trial.
func tried(h http.Handler, form url.Values, wish string) *httptest.ResponseRecorder {
	form.Set(screen.WishKey, wish)
	return sendTo(h, "try", form, http.Header{"Sec-Fetch-Site": {"same-origin"}})
}

const ringAt381 = screen.SetKey + "rings[at 381 mm].at"

// TestTryWritesWhatWasSet works a trial out, keeps it, and looks at the bytes.
func TestTryWritesWhatWasSet(t *testing.T) {
	h, dir := showing(t)
	file := filepath.Join(dir, "models", "skerry-10.yaml")
	before := read(t, file)
	_, page := ask(h, "try?of=skerry-10")
	form := filled(page)
	if form.Get(ringAt381) != "381 mm" {
		t.Fatalf("no field for the ring: %v", form)
	}
	form.Set(ringAt381, "391 mm")
	form.Set(screen.SetKey+"rings[at 1700 mm].part", "DT-16")
	w := tried(h, form, "")
	for _, want := range []string{"<td>changed</td>", "slightly", "butt ring size", "Verdict:"} {
		if !strings.Contains(w.Body.String(), want) {
			t.Errorf("worked out without %q", want)
		}
	}
	if !bytes.Equal(read(t, file), before) {
		t.Error("the file was written though nothing was kept")
	}
	if w := tried(h, form, screen.KeepWish); w.Code != http.StatusSeeOther {
		t.Fatalf("%d\n%s", w.Code, w.Body)
	}
	want := bytes.Replace(before, []byte("{at: 381 mm,"), []byte("{at: 391 mm,"), 1)
	want = bytes.Replace(want, []byte("part: DT-20"), []byte("part: DT-16"), 1)
	if now := read(t, file); !bytes.Equal(now, want) {
		t.Errorf("the file is\n%s", now)
	}
}

func read(t *testing.T, file string) []byte {
	t.Helper()
	content, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return content
}

// TestTryEvensOut lays rings out, and keeps all else of the file.
func TestTryEvensOut(t *testing.T) {
	h, dir := showing(t)
	file := filepath.Join(dir, "models", "skerry-10.yaml")
	before := string(read(t, file))
	_, page := ask(h, "try?of=skerry-10")
	form := filled(page)
	form.Set(screen.CountKey, "7")
	form.Set(screen.ButtRingKey, "1.3 m")
	form = filled(tried(h, form, screen.EvenWish).Body.String())
	if w := tried(h, form, screen.KeepWish); w.Code != http.StatusSeeOther {
		t.Fatalf("%d\n%s", w.Code, w.Body)
	}
	after := string(read(t, file))
	if n := strings.Count(after, "part: ") - strings.Count(before, "part: "); n != 2 || !strings.Contains(after, "{at: 1748 mm,") {
		t.Errorf("%d rings more:\n%s", n, after)
	}
	head, _, _ := strings.Cut(before, "rings:")
	if !strings.HasPrefix(after, head) || !strings.Contains(after, "# five, on trial") {
		t.Errorf("more than the rings changed:\n%s", after)
	}
}

// TestTryChangesRingsAndKeys takes a ring out, puts one in, and sets what the file does
// not say, by the buttons and fields of a form.
func TestTryChangesRingsAndKeys(t *testing.T) {
	h, dir := showing(t)
	file := filepath.Join(dir, "models", "skerry-10.yaml")
	before := string(read(t, file))
	_, page := ask(h, "try?of=skerry-10")
	wish := func(wish string, set ...string) {
		t.Helper()
		if wish != "" && !strings.Contains(page, `value="`+wish+`"`) {
			t.Fatalf("no button %q", wish)
		}
		form := filled(page)
		for i := 0; i+1 < len(set); i += 2 {
			form.Set(set[i], set[i+1])
		}
		page = tried(h, form, wish).Body.String()
	}
	wish("less rings[at 686 mm]")
	wish("more rings[at 381 mm]")
	wish("", screen.OtherKey, "tolerances.wall", screen.OtherValueKey, "590")
	if !strings.Contains(page, "&#34;590&#34; has no unit") || !strings.Contains(page, `value="590"`) {
		t.Errorf("a fault is not told:\n%s", page)
	}
	wish("", screen.OtherKey, "hold", screen.OtherValueKey, "590 mm")
	if !strings.Contains(page, "it has no hold that could be set") {
		t.Errorf("an unknown key is not told:\n%s", page)
	}
	wish("", screen.OtherKey, "tolerances.wall", screen.OtherValueKey, "0.05 mm")
	if w := tried(h, filled(page), screen.KeepWish); w.Code != http.StatusSeeOther {
		t.Fatalf("%d\n%s", w.Code, w.Body)
	}
	after := string(read(t, file))
	for _, want := range []string{"{at: 381 mm, part: SL-8}", "{at: 743 mm, part: SL-8}", "tolerances: {wall: 0.05 mm}"} {
		if !strings.Contains(after, want) {
			t.Errorf("without %q:\n%s", want, after)
		}
	}
	if strings.Contains(after, "686 mm") || strings.Count(after, "part: ") != strings.Count(before, "part: ") {
		t.Errorf("not one ring for another:\n%s", after)
	}
}

// TestTryTellsFaults sets what cannot be: the fault stands beside its field.
func TestTryTellsFaults(t *testing.T) {
	h, dir := showing(t)
	file := filepath.Join(dir, "models", "skerry-10.yaml")
	before := read(t, file)
	_, page := ask(h, "try?of=skerry-10")
	form := filled(page)
	form.Set(ringAt381, "381")
	form.Set(screen.SetKey+"handle.seat.at", "4 miles <b>")
	for _, wish := range []string{"", screen.KeepWish, screen.EvenWish} {
		w := tried(h, form, wish)
		page := w.Body.String()
		for _, want := range []string{
			`name="set rings[at 381 mm].at" aria-invalid="true"`, `<p class="fault" id="field-`, `&#34;381&#34; has no unit`, `value="4 miles &lt;b&gt;"`, "models/skerry-10.yaml:35:",
		} {
			if !strings.Contains(page, want) {
				t.Errorf("%q: %d, without %q", wish, w.Code, want)
			}
		}
		if strings.Contains(page, "<b>") {
			t.Error("markup got in by a value")
		}
	}
	if !bytes.Equal(read(t, file), before) {
		t.Error("faults were written")
	}
}

// TestTryTellsGaps mends a gap that plies leave: it is told beside the field of the
// ply that would have to reach further.
func TestTryTellsGaps(t *testing.T) {
	h, dir := showing(t)
	file := filepath.Join(dir, "models", "dunlin-8.yaml")
	spec := []byte(`name: Dunlin 8
bare: true
length: 1200 mm
sections:
  - name: whole
    length: 1200 mm
    rolled:
      mandrel: [{at: 0 mm, diameter: 2 mm}, {at: 1200 mm, diameter: 8 mm}]
      plies:
        - {material: wwfe-carbon-1, angle: 0, wraps: 3, to: 400 mm}
        - {material: wwfe-carbon-1, angle: 0, wraps: 3, from: 500 mm}
`)
	if err := os.WriteFile(file, spec, 0o644); err != nil {
		t.Fatal(err)
	}
	const from = "sections[whole].rolled.plies[2].from"
	_, page := ask(h, "try?of=dunlin-8")
	for _, want := range []string{`name="set ` + from + `" aria-invalid="true"`, `>no ply lies between &#34;400 mm&#34; and &#34;500 mm&#34; from the thin end`} {
		if !strings.Contains(page, want) {
			t.Errorf("without %q", want)
		}
	}
	form := filled(page)
	form.Set(screen.SetKey+from, "450 mm")
	if w := tried(h, form, screen.KeepWish); w.Code == http.StatusSeeOther || !bytes.Equal(read(t, file), spec) {
		t.Errorf("%d: a gap was written", w.Code)
	}
	form.Set(screen.SetKey+from, "390 mm")
	if w := tried(h, form, screen.KeepWish); w.Code != http.StatusSeeOther || !bytes.Contains(read(t, file), []byte("from: 390 mm")) {
		t.Errorf("%d: what has no gap was not written", w.Code)
	}
}

// TestTryTellsOfAnEditElsewhere edits the file while a trial is open.
func TestTryTellsOfAnEditElsewhere(t *testing.T) {
	h, dir := showing(t)
	file := filepath.Join(dir, "models", "skerry-10.yaml")
	_, page := ask(h, "try?of=skerry-10")
	form := filled(page)
	form.Set(ringAt381, "391 mm")
	theirs := bytes.Replace(read(t, file), []byte("spool: 46 mm"), []byte("spool: 48 mm"), 1)
	if err := os.WriteFile(file, theirs, 0o666); err != nil {
		t.Fatal(err)
	}
	w := tried(h, form, screen.KeepWish)
	for _, want := range []string{"edited elsewhere", "-reel: {kind: fixed-spool, mass: 310 g, spool: 48 mm", "+reel: {kind: fixed-spool, mass: 310 g, spool: 46 mm", "+  - {at: 391 mm"} {
		if !strings.Contains(w.Body.String(), want) {
			t.Errorf("%d, without %q", w.Code, want)
		}
	}
	if !bytes.Equal(read(t, file), theirs) {
		t.Fatal("what was edited elsewhere is gone")
	}
	half := theirs[:len(theirs)/2] // as an editor has it that writes in place
	if err := os.WriteFile(file, half, 0o666); err != nil {
		t.Fatal(err)
	}
	if w := tried(h, filled(w.Body.String()), screen.KeepWish); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "edited elsewhere") || !bytes.Equal(read(t, file), half) {
		t.Errorf("over a file that is half written: %d\n%s", w.Code, read(t, file))
	}
	if err := os.WriteFile(file, theirs, 0o666); err != nil {
		t.Fatal(err)
	}
	if w := tried(h, filled(w.Body.String()), screen.KeepWish); w.Code != http.StatusSeeOther {
		t.Fatalf("having seen both: %d", w.Code)
	}
	if now := read(t, file); !bytes.Contains(now, []byte("spool: 46 mm")) || !bytes.Contains(now, []byte("{at: 391 mm,")) {
		t.Errorf("not what was kept:\n%s", now)
	}
}

// TestTryInABrowser moves a ring by keyboard and by pointer, sees the figures follow,
// keeps the draft, and looks at the bytes.
func TestTryInABrowser(t *testing.T) {
	h, dir := showing(t)
	file := filepath.Join(dir, "models", "skerry-10.yaml")
	before := read(t, file)
	b := pagetest.Visit(t, h)
	b.Accessible(t, "try?of=skerry-10")
	b.Show(t, "try?of=skerry-10", pagetest.View{Width: 1280})
	b.Ask(t, `window.moved = () => new Promise((done) => {
		const watch = new MutationObserver(() => { watch.disconnect(); setTimeout(() => done(document.querySelector("#outcome table").textContent), 50); });
		watch.observe(document.querySelector("#outcome").parentElement, { childList: true });
	}); document.querySelector('[data-field="set rings[at 381 mm].at"]').focus(); ""`)
	was := b.Ask(t, `document.querySelector("#outcome table").textContent`)
	b.Ask(t, `window.next = moved(); ""`)
	for range 5 {
		b.Press(t, kb.ArrowLeft) // towards the butt
	}
	if now := b.Ask(t, `next`); now == was {
		t.Error("the figures did not follow the keyboard")
	}
	if at := b.Ask(t, `document.querySelector('[name="set rings[at 381 mm].at"]').value`); at != "386 mm" {
		t.Errorf("by the keyboard it went to %s", at)
	}
	b.Ask(t, `window.next = moved(); ""`)
	b.Drag(t, `[data-field="set rings[at 686 mm].at"]`, `(i) => { const r = i.getBoundingClientRect(), x = r.right - 8 - (r.width - 16) * i.value / i.max; return [x, r.top + r.height / 2]; }`, -20)
	if now := b.Ask(t, `next`); now == was {
		t.Error("the figures did not follow the pointer")
	}
	at := b.Ask(t, `document.querySelector('[name="set rings[at 686 mm].at"]').value`)
	if at <= "686 mm" || at > "799 mm" {
		t.Errorf("by the pointer it went to %s", at)
	}
	b.Ask(t, `setTimeout(() => document.querySelector('[value="keep"]').click()); ""`)
	b.Comes(t, "/rod?of=skerry-10")
	want := bytes.Replace(before, []byte("{at: 381 mm,"), []byte("{at: 386 mm,"), 1)
	want = bytes.Replace(want, []byte("{at: 686 mm,"), []byte("{at: "+at+","), 1)
	if now := read(t, file); !bytes.Equal(now, want) {
		t.Errorf("the file is\n%s", now)
	}
}

// TestTourInABrowser goes through the screen as a maker would click it: from the range to
// a model, a ring moved, kept, saved with its reason, ticked in the review, looked at in
// the story, and back.
func TestTourInABrowser(t *testing.T) {
	h, dir := showing(t)
	b := pagetest.Visit(t, h)
	click := func(text, comes string) {
		t.Helper()
		b.Ask(t, `setTimeout(() => [...document.querySelectorAll("a, button")].find((e) => e.textContent.trim().startsWith(`+strconv.Quote(text)+`)).click()); ""`)
		b.Comes(t, comes)
	}
	shows := func(text string) {
		t.Helper()
		for end := time.Now().Add(time.Minute); b.Ask(t, `String(document.body?.textContent.includes(`+strconv.Quote(text)+`))`) != "true"; time.Sleep(20 * time.Millisecond) {
			if time.Now().After(end) {
				t.Fatalf("%s does not show %q", b.Ask(t, `location.href`), text)
			}
		}
	}
	b.Show(t, "", pagetest.View{Width: 1280})
	click("Skerry 10", "/rod?of=skerry-10")
	click("Try it out", "/try?of=skerry-10")
	b.Ask(t, `document.querySelector('[data-field="set rings[at 381 mm].at"]').focus(); ""`)
	for range 4 {
		b.Press(t, kb.ArrowLeft)
	}
	click("Keep as draft", "/rod?of=skerry-10")
	b.Ask(t, `document.querySelector('[name="why"]').value = "the third ring nearer the butt"; ""`)
	click("Save", "/rod?of=skerry-10&told=")
	shows("saved 1 file as")
	shows("the third ring nearer the butt")
	if file := read(t, filepath.Join(dir, "models", "skerry-10.yaml")); !bytes.Contains(file, []byte("{at: 385 mm,")) {
		t.Errorf("saved as\n%s", file)
	}
	click("Is it fit for sale?", "/review?of=skerry-10")
	b.Ask(t, `document.querySelector('[name="tick"][value="feet"]').click(); document.querySelector('[name="by"]').value = "MK"; ""`)
	click("Tick", "/review?of=skerry-10&told=")
	shows("rodlore review")
	click("Skerry 10", "/rod?of=skerry-10")
	click("The story", "/story?of=skerry-10")
	click("All models", "/")
	shows("The models as they stand")
	b.Ask(t, `setTimeout(() => history.back()); ""`)
	b.Comes(t, "/story?of=skerry-10")
	b.Ask(t, `setTimeout(() => history.forward()); ""`)
	b.Comes(t, "/")
	shows("The models as they stand")
}

// TestBendIsDrawnBetweenShapes drags the load: in every frame the bend is another, and
// the server is asked once, at the end.
func TestBendIsDrawnBetweenShapes(t *testing.T) {
	h, _ := showing(t)
	b := pagetest.Visit(t, h)
	for _, page := range []string{"rod?of=skerry-10", "try?of=skerry-10"} {
		b.Show(t, page, pagetest.View{Width: 1280})
		said := b.Ask(t, `(async () => {
			const asked = window.fetch;
			let fetches = 0, last = 0, inOrder = true;
			window.fetch = (...all) => { fetches++; return asked(...all); };
			const slider = document.getElementById("try").elements.load;
			const shapes = new Set(), tips = [];
			for (let grams = 0; grams < 600; grams += 10) {
				slider.value = grams;
				slider.dispatchEvent(new Event("input", { bubbles: true }));
				const now = await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
				inOrder &&= now > last;
				last = now;
				const rod = document.getElementById("bend-rod-0");
				shapes.add(rod.getAttribute("d"));
				tips.push(rod.getBBox().height);
			}
			const dragging = fetches;
			slider.dispatchEvent(new Event("change", { bubbles: true }));
			while (!document.querySelector("#outcome, #bent").textContent.includes(slider.value)) await new Promise((done) => setTimeout(done, 20));
			return [shapes.size, tips.every((tip, i) => i === 0 || tip > tips[i - 1] - 0.5) && inOrder, dragging, fetches].join(" ");
		})()`)
		if said != "60 true 0 1" {
			t.Errorf("%s: shapes, in order, asked while dragging and at all: %s", page, said)
		}
	}
}

// TestTryingForgets reads so many trials that the range is opened anew, once.
func TestTryingForgets(t *testing.T) {
	_, dir := showing(t)
	s := screenOf(t, dir)
	opened := map[*kept]int{}
	for range mostRead {
		err := s.trying(t.Context(), "skerry-10", func(k *kept) error {
			opened[k]++
			_, err := s.trial(k, "skerry-10", nil)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if len(opened) != 2 || opened[s.kept] != 1 || s.kept.read != 2 { // with its draft
		t.Errorf("opened for so many trials each: %v; read last: %d", slices.Sorted(maps.Values(opened)), s.kept.read)
	}
}

// BenchmarkTry answers one setting after the other.
func BenchmarkTry(b *testing.B) {
	dir := filepath.Join(b.TempDir(), "range")
	if err := copyDemo(dir); err != nil {
		b.Fatal(err)
	}
	h := screenOf(b, dir).views()
	_, page := ask(h, "try?of=skerry-10")
	form := filled(page)
	defer reportCPU(b)()
	places := []string{"382 mm", "383 mm", "384 mm", "385 mm"}
	for i := 0; b.Loop(); i++ {
		form.Set(ringAt381, places[i%len(places)])
		form.Set(screen.DraggedKey, "")
		if w := tried(h, form, ""); w.Code != http.StatusOK {
			b.Fatal(w.Code)
		}
	}
}

// TestPhotographInABrowser chooses a photograph, clicks two marks and two points, moves
// one by a key, and looks at the trace in the file of bench/.
func TestPhotographInABrowser(t *testing.T) {
	h, dir := showing(t)
	b := pagetest.Visit(t, h)
	b.Accessible(t, "trace?of=skerry-10&load=200g")
	b.Show(t, "trace?of=skerry-10&load=200g", pagetest.View{Width: 1280})
	b.Ask(t, `(async () => {
		const canvas = Object.assign(document.createElement("canvas"), { width: 4000, height: 2000 });
		canvas.getContext("2d").fillRect(0, 0, 4000, 2000);
		const blob = await new Promise((done) => canvas.toBlob(done, "image/png"));
		const chosen = new DataTransfer();
		chosen.items.add(new File([blob], "bend.png", { type: "image/png" }));
		const file = document.getElementById("photo-file");
		file.files = chosen.files;
		file.dispatchEvent(new Event("change"));
		const form = document.getElementById("try");
		while (!form.elements.size.value) await new Promise((done) => setTimeout(done, 20));
		Object.assign(form.elements.rod, { value: "0162" });
		Object.assign(form.elements.apart, { value: "1800 mm ± 1 mm" });
		document.querySelector(".board").scrollIntoView();
		return "";
	})()`)
	for _, at := range []string{"[500, 1000]", "[2750, 1000]", "[1415, 1066]", "[2014, 1189]"} {
		b.Drag(t, ".board", `(i) => { const r = i.getBoundingClientRect(), [x, y] = `+at+`; return [r.left + r.width * x / 4000, r.top + r.height * y / 2000]; }`, 0)
	}
	was := b.Ask(t, `document.getElementById("try").elements.points.value`)
	b.Press(t, kb.ArrowDown)
	if now := b.Ask(t, `document.getElementById("try").elements.points.value`); now == was || len(strings.Fields(now)) != 2 {
		t.Errorf("points %q, then %q", was, now)
	}
	if curve := b.Ask(t, `document.querySelector(".board polyline")?.getAttribute("points") ?? ""`); len(strings.Fields(curve)) < 10 {
		t.Errorf("the bend worked out is not laid over it: %q", curve)
	}
	form := func(name string) string {
		return b.Ask(t, `document.getElementById("try").elements.`+name+`.value`)
	}
	marks, points := form("marks"), form("points")
	middle := `(i) => { const r = i.getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2]; }`
	b.Drag(t, `.board g[data-at="1"]`, middle, 30)
	if now := form("marks"); now == marks || form("points") != points {
		t.Errorf("a mark that was dragged: %q, then %q", marks, now)
	}
	b.Drag(t, `.board g[data-at="1"]`, middle, -30)
	if now := form("marks"); now != marks {
		t.Errorf("dragged back: %q, then %q", marks, now)
	}
	b.Drag(t, ".board", `(i) => { const r = i.getBoundingClientRect(); return [r.left + r.width * 0.7, r.top + r.height * 0.8]; }`, 0)
	if now := form("points"); len(strings.Fields(now)) != 3 {
		t.Errorf("a third point: %q", now)
	}
	b.Press(t, kb.Delete)
	if now := form("points"); now != points {
		t.Errorf("taken away: %q, then %q", points, now)
	}
	zoomed := b.Ask(t, `(() => {
		const board = document.querySelector(".board"), was = board.getBoundingClientRect().width;
		const zoom = document.getElementById("photo-zoom");
		zoom.value = 2;
		zoom.dispatchEvent(new Event("input", { bubbles: true }));
		return String(board.getBoundingClientRect().width / was);
	})()`)
	if zoomed != "2" || form("marks") != marks || form("points") != points {
		t.Errorf("zoomed %s times: %q, %q", zoomed, form("marks"), form("points"))
	}
	b.Ask(t, `setTimeout(() => document.querySelector("#try button").click()); ""`)
	b.Comes(t, "/fit?of=skerry-10")
	trace := string(read(t, filepath.Join(dir, "bench", "skerry-10-0162.yaml")))
	for _, want := range []string{"model: skerry-10", "of: 2026", "trace: ", "load: 200g", "within: "} {
		if !strings.Contains(trace, want) {
			t.Errorf("without %q:\n%s", want, trace)
		}
	}
}

// TestManyReadWhileOneSaves reads views while the range is edited and saved: every
// answer is whole, and of one state or another. READERS=50 reads by that many, each for
// half a minute.
func TestManyReadWhileOneSaves(t *testing.T) {
	h, dir := showing(t)
	readers, rounds := 8, 2
	var until time.Time
	if n, err := strconv.Atoi(os.Getenv("READERS")); err == nil {
		readers, until = n, time.Now().Add(30*time.Second)
	}
	file := filepath.Join(dir, "models", "rill-7.yaml")
	was := read(t, file)
	done := make(chan struct{})
	var saved int
	var saver, all sync.WaitGroup
	saver.Go(func() {
		for i := 0; ; i++ {
			select {
			case <-done:
				return
			default:
			}
			text := append(slices.Clip(was), fmt.Sprintf("# round %d\n", i)...)
			if err := os.WriteFile(file, text, 0o666); err != nil {
				t.Error(err)
				return
			}
			if w := posted(t, h, "rod?of=skerry-10", url.Values{"deed": {"save"}, "of": {"rill-7"}, "why": {fmt.Sprint("round ", i)}}); w.Code == http.StatusSeeOther {
				saved++
			}
		}
	})
	for n := range readers {
		all.Go(func() {
			for i := 0; i < rounds || time.Now().Before(until); i++ {
				address := []string{"", "rod?of=rill-7", "compare?of=rill-7@2025&with=rill-7@2026", "built"}[(n+i)%4]
				if status, page := ask(h, address); status != http.StatusOK || !strings.HasSuffix(page, "</html>\n") {
					t.Errorf("%s: %d\n%s", address, status, page)
				}
			}
		})
	}
	all.Wait()
	close(done)
	saver.Wait()
	t.Logf("%d saves", saved)
}

// TestBendFollowsTheLoad bends a rod as its view is asked to.
func TestBendFollowsTheLoad(t *testing.T) {
	h, _ := showing(t)
	for address, want := range map[string]string{
		"rod?of=skerry-10&load=150&pull=120": "150 g", "rod?of=skerry-10@2024&load=150&pull=120": "at 120",
		"rod?of=skerry-10&load=1e99&pull=x": "Every revision",
	} {
		if status, page := ask(h, address); status != http.StatusOK || !strings.Contains(page, want) {
			t.Errorf("%s: %d, without %q", address, status, want)
		}
	}
}

// BenchmarkFirstView answers for the range as it is first asked for.
func BenchmarkFirstView(b *testing.B) {
	dir := filepath.Join(b.TempDir(), "range")
	if err := copyDemo(dir); err != nil {
		b.Fatal(err)
	}
	defer reportCPU(b)()
	for b.Loop() {
		if status, _ := ask(screenOf(b, dir).views(), ""); status != http.StatusOK {
			b.Fatal(status)
		}
	}
}
