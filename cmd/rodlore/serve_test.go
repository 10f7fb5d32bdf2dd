package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"html"
	"io"
	"io/fs"
	"maps"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"rodlore/catalogue/pages/pagetest"
	"rodlore/evaluate"
)

// showing is the screen of a copy of the demo, and the folder of the copy.
func showing(t *testing.T) (http.Handler, string) {
	t.Helper()
	s, dir := ofDemo(t)
	return s.views(), dir
}

// ofDemo is what answers a browser about a copy of the demo, and the folder of the copy.
func ofDemo(t *testing.T) (*screenServer, string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "range")
	if err := copyDemo(dir); err != nil {
		t.Fatal(err)
	}
	return screenOf(t, dir), dir
}

func screenOf(t testing.TB, dir string) *screenServer {
	t.Helper()
	off := map[string]string{"RODLORE_CACHE": "off", "RODLORE_MEMORY": "off"}
	p := &program{dir: dir, printer: printer{env: func(key string) string { return off[key] }}, now: scriptClock, err: io.Discard}
	s, err := p.screen(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// ask gives the answer to a request for an address, by this computer's own name.
func ask(h http.Handler, address string) (status int, page string) {
	r := httptest.NewRequest(http.MethodGet, "http://127.0.0.1:8467/"+address, nil)
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Code, w.Body.String()
}

var hrefs = regexp.MustCompile(`href="\./([^"]*)"`)

// TestViewsLeadToEachOther follows every link from the range on, and looks at all pages
// as HTML.
func TestViewsLeadToEachOther(t *testing.T) {
	screen, _ := showing(t)
	pages, kinds := map[string][]byte{}, map[string]string{}
	seen, next := map[string]bool{"": true}, []string{""}
	for len(next) > 0 {
		address := next[0]
		next = next[1:]
		view, query, _ := strings.Cut(address, "?")
		if kinds[view] != "" && (view == "story" || view == "sheet" || view == "review" || strings.Count(query, "ferry") == 0) {
			continue // all of one model, and one of each kind of the others
		}
		status, page := ask(screen, address)
		if status != http.StatusOK {
			t.Fatalf("%s: %d\n%s", address, status, page)
		}
		name := fmt.Sprintf("%d.html", len(pages))
		pages[name] = []byte(page)
		if kinds[view] == "" {
			kinds[view] = name
		}
		if view != "story" { // leads nowhere, for customers read it
			for _, m := range hrefs.FindAllStringSubmatch(page, -1) {
				if to := html.UnescapeString(m[1]); !seen[to] && !strings.HasPrefix(to, "show?") {
					seen[to], next = true, append(next, to)
				}
			}
		}
	}
	for _, view := range slices.Concat(slices.Collect(maps.Keys(viewsByName)), slices.Collect(maps.Keys(askedViews)), []string{"try", "trace"}) {
		if kinds[view] == "" && view != "serial" { // that is asked for by a number
			t.Errorf("no link leads to %q", view)
		}
	}
	pagetest.Validate(t, pages)
}

// TestViewsAreAccessible looks at every view as people do who see or move otherwise.
func TestViewsAreAccessible(t *testing.T) {
	h, _ := showing(t)
	b := pagetest.Visit(t, h)
	looked := map[string]bool{"try": true, "trace": true} // where they are tried out
	for _, address := range []string{
		"", "rod?of=skerry-10", "compare?of=skerry-10@2025&with=skerry-10@2026", "story?of=wrack-9", "review?of=skerry-10", "sheet?of=wrack-9", "yearbook?year=2026",
		"patterns?of=rill-7&count=6", "steps?of=skerry-10@2025&to=skerry-10@2026", "fit?of=skerry-10", "built?of=skerry-10", "serial?of=0147", "chart?of=skerry-10", "new",
	} {
		view, _, _ := strings.Cut(address, "?")
		looked[view] = true
		b.Accessible(t, address)
	}
	for _, view := range slices.Concat(slices.Collect(maps.Keys(viewsByName)), slices.Collect(maps.Keys(askedViews))) {
		if !looked[view] {
			t.Errorf("%q is not looked at", view)
		}
	}
}

// TestOnlyThisComputerIsAnswered asks by the names that another page could have.
func TestOnlyThisComputerIsAnswered(t *testing.T) {
	screen, _ := showing(t)
	for _, row := range []struct {
		method, host string
		want         int
	}{
		{"GET", "127.0.0.1:8467", 200}, {"GET", "localhost:8467", 200}, {"GET", "[::1]:8467", 200}, {"HEAD", "localhost", 200},
		{"GET", "tarrowmouth.example:8467", 403}, {"GET", "127.0.0.1.example", 403}, {"GET", "10.0.0.4:8467", 403}, {"GET", "", 403},
		{"GET", "localhost.example", 403}, {"POST", "127.0.0.1:8467", 405}, {"PUT", "localhost", 405},
	} {
		r := httptest.NewRequest(row.method, "http://127.0.0.1/", strings.NewReader("x"))
		r.Host = row.host
		w := httptest.NewRecorder()
		screen.ServeHTTP(w, r)
		if w.Code != row.want {
			t.Errorf("%s of %q: %d, want %d", row.method, row.host, w.Code, row.want)
		}
		if h := w.Header(); h.Get("X-Content-Type-Options") != "nosniff" || !strings.Contains(h.Get("Content-Security-Policy"), "frame-ancestors 'none'") ||
			h.Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%s of %q: headers %v", row.method, row.host, h)
		}
	}
}

// posted gives the answer to a form, with the token of the page it stands on.
func posted(t *testing.T, h http.Handler, page string, form url.Values) *httptest.ResponseRecorder {
	t.Helper()
	_, html := ask(h, page)
	token := regexp.MustCompile(`name="token" value="([^"]+)"`).FindStringSubmatch(html)
	if token == nil {
		t.Fatalf("%s has no form that writes", page)
	}
	form.Set("token", token[1])
	return send(h, form, http.Header{"Sec-Fetch-Site": {"same-origin"}, "Origin": {"http://127.0.0.1:8467"}})
}

func send(h http.Handler, form url.Values, header http.Header) *httptest.ResponseRecorder {
	return sendTo(h, "do", form, header)
}

func sendTo(h http.Handler, address string, form url.Values, header http.Header) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodPost, "http://127.0.0.1:8467/"+address, strings.NewReader(form.Encode()))
	r.Header = header
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// TestOnlyOwnPagesWrite sends what a page elsewhere, or one of an earlier run, could.
func TestOnlyOwnPagesWrite(t *testing.T) {
	screen, dir := showing(t)
	before := folderText(t, dir)
	form := url.Values{"deed": {"put-back"}, "of": {"skerry-10"}}
	for name, header := range map[string]http.Header{
		"no token":       {},
		"from elsewhere": {"Sec-Fetch-Site": {"cross-site"}, "Origin": {"https://elsewhere.example"}},
		"another port":   {"Sec-Fetch-Site": {"same-site"}, "Origin": {"http://127.0.0.1:9999"}},
		"an old browser": {"Origin": {"https://elsewhere.example"}},
		"no origin":      {"Origin": {"null"}},
	} {
		if w := send(screen, form, header); w.Code != http.StatusForbidden {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
	form.Set("token", "guessed")
	if w := send(screen, form, http.Header{}); w.Code != http.StatusForbidden {
		t.Errorf("a guessed token: %d", w.Code)
	}
	for _, form := range []url.Values{
		{"deed": {"save"}, "of": {"../../elsewhere.yaml"}, "why": {"x"}}, {"deed": {"save"}, "of": {"models/skerry-10.yaml"}, "why": {"x"}},
		{"deed": {"demo"}, "of": {"x"}}, {"deed": {"put-back"}, "of": {"skerry-10\x00"}}, {},
	} {
		if w := posted(t, screen, "rod?of=skerry-10", form); w.Code != http.StatusNotFound {
			t.Errorf("%v: %d", form, w.Code)
		}
	}
	for _, form := range []url.Values{
		{"deed": {"put-back"}, "of": {"--own"}}, {"deed": {"save"}, "of": {"skerry-10"}}, {"deed": {"put-back"}, "of": {"no-such"}},
	} {
		if w := posted(t, screen, "rod?of=skerry-10", form); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "rodlore: ") {
			t.Errorf("%v: %d\n%s", form, w.Code, w.Body)
		}
	}
	if w := posted(t, screen, "rod?of=skerry-10", url.Values{"deed": {"save"}, "why": {strings.Repeat("x", 5<<20)}}); w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("a huge form: %d", w.Code)
	}
	if after := folderText(t, dir); after != before {
		t.Error("something was written")
	}
}

// folderText is all files of a range.
func folderText(t *testing.T, dir string) string {
	t.Helper()
	var all strings.Builder
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		content, err := os.ReadFile(path)
		fmt.Fprintf(&all, "%s\n%s\n", path, content)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all.String()
}

// TestDeedsAreCommands saves a draft and puts one back, and shows what was said of it.
func TestDeedsAreCommands(t *testing.T) {
	screen, dir := showing(t)
	w := posted(t, screen, "rod?of=skerry-10", url.Values{"deed": {"save"}, "of": {"skerry-10"}, "why": {"five will do"}, "tell": {"One ring\r\nfewer."}})
	if w.Code != http.StatusSeeOther {
		t.Fatalf("%d\n%s", w.Code, w.Body)
	}
	_, page := ask(screen, strings.TrimPrefix(w.Header().Get("Location"), "/"))
	for _, want := range []string{"rodlore save", "five will do", "saved 1 file as"} {
		if !strings.Contains(html.UnescapeString(page), want) {
			t.Errorf("without %q", want)
		}
	}
	file := filepath.Join(dir, "models", "skerry-10.yaml")
	saved, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	edited := bytes.Replace(saved, []byte("at: 381 mm"), []byte("at: 391 mm"), 1)
	if err := os.WriteFile(file, edited, 0o666); err != nil {
		t.Fatal(err)
	}
	if w := posted(t, screen, "rod?of=skerry-10", url.Values{"deed": {"put-back"}, "of": {"skerry-10"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("%d\n%s", w.Code, w.Body)
	}
	if now, err := os.ReadFile(file); err != nil || !bytes.Equal(now, saved) {
		t.Errorf("not as it was saved: %v", err)
	}
}

// TestAskedViews shows what commands say, and refuses what would lead to a file.
func TestAskedViews(t *testing.T) {
	h, dir := showing(t)
	for address, want := range map[string]string{
		"patterns?of=skerry-10&count=5":                        "laid out with",
		"steps?of=skerry-10@2021&to=skerry-10@2026&releases=9": "ring count",
		"steps?of=skerry-10":                                   "the number of releases, the goal among them",
		"fit?of=skerry-10":                                     "modulus",
		"built?of=skerry-10":                                   "0147",
		"serial?of=0147":                                       "weight",
		"serial?of=9999":                                       "9999: ",
		"chart":                                                "built chart",
		"new":                                                  "such as 412 mm under 100 g",
		"patterns?of=skerry-10&count=5%22%3E%3Cscript%3Ealert(": "is no number of rings",
	} {
		status, page := ask(h, address)
		if status != http.StatusOK || !strings.Contains(html.UnescapeString(page), want) || strings.Contains(page, "<script>alert") {
			t.Errorf("%s: %d, without %q", address, status, want)
		}
	}
	for _, address := range []string{
		"steps?of=skerry-10&to=models/rill-7.yaml", "patterns?of=skerry-10&like=../../x", "fit?of=skerry-10&bench=..%2fx", "patterns?of=models/skerry-10.yaml",
		"patterns?of=skerry-10&like=x.yaml", "try?of=../skerry-10",
	} {
		if status, _ := ask(h, address); status != http.StatusNotFound {
			t.Errorf("%s: %d", address, status)
		}
	}
	for _, row := range []struct {
		page, file, want string
		form             url.Values
	}{
		{"review?of=skerry-10", "reviews/skerry-10.yaml", "check: feet", url.Values{"deed": {"tick"}, "of": {"skerry-10@saved"}, "tick": {"feet", "varnish"}, "by": {"MK"}}},
		{"built", "builds/2026.yaml", `0190`, url.Values{"deed": {"built"}, "of": {"skerry-10@2026"}, "serial": {"0190"}, "weight": {"166.2 g"}}},
		{"new", "models/gull-9.yaml", "Gull 9", url.Values{
			"deed": {"blank"}, "of": {"gull-9"}, "length": {"9 ft"}, "tip": {"1.9 mm"}, "butt": {"12 mm"}, "mass": {"71 g"}, "hung": {"412 mm under 100 g"}}},
		{"new", "models/skerry-11.yaml", "Skerry 11", url.Values{"deed": {"like"}, "of": {"skerry-11"}, "like": {"skerry-10@2025"}}},
		{"fit?of=skerry-10", "bench/skerry-10-0163.yaml", "{drop: 472 mm, load: 100g}", url.Values{
			"deed": {"measure"}, "of": {"skerry-10@2026"}, "rod": {"0163"}, "what": {"drop"}, "reading": {"472 mm"}, "load": {"100g"}}},
		{"patterns?of=rill-7", "models/rill-7.yaml", "rings:", url.Values{"deed": {"pattern"}, "of": {"rill-7"}, "count": {"6"}}},
	} {
		if w := posted(t, h, row.page, row.form); w.Code != http.StatusSeeOther {
			t.Errorf("%v: %d\n%s", row.form, w.Code, w.Body)
			continue
		}
		if content := string(read(t, filepath.Join(dir, filepath.FromSlash(row.file)))); !strings.Contains(content, row.want) {
			t.Errorf("%s without %q:\n%s", row.file, row.want, content)
		}
	}
	if _, page := ask(h, "review?of=skerry-10@saved"); strings.Contains(page, `class="checklist"`) || strings.Count(page, "cotton drawn through") != 1 {
		t.Errorf("boxes that do nothing:\n%s", page)
	}
	for _, row := range []struct {
		label string
		want  int
	}{{"not 27", http.StatusUnprocessableEntity}, {"2027", http.StatusSeeOther}} {
		w := posted(t, h, "review?of=overfall-11", url.Values{"deed": {"release"}, "of": {"overfall-11"}, "label": {row.label}, "despite": {"the club asked"}})
		if w.Code != row.want {
			t.Errorf("release as %s: %d\n%s", row.label, w.Code, w.Body)
		}
	}
	if status, page := ask(h, "rod?of=overfall-11"); status != http.StatusOK || !strings.Contains(page, "2027 (20") {
		t.Errorf("on sale: %d\n%s", status, page)
	}
	w := posted(t, h, "new", url.Values{"deed": {"blank"}, "of": {"gull-10"}, "length": {"9"}, "tip": {"1.9 mm"}, "butt": {"12 mm"}, "mass": {"71 g"}, "hung": {"412 mm under 100 g"}})
	for _, want := range []string{`<p class="fault" id="field-3-fault">"9" has no unit; write it with one`, `value="412 mm under 100 g"`, `value="gull-10"`} {
		if page := html.UnescapeString(w.Body.String()); w.Code != http.StatusUnprocessableEntity || !strings.Contains(page, want) {
			t.Errorf("a fault: %d, without %q\n%s", w.Code, want, page)
		}
	}
	for _, row := range []struct{ of, like, beside string }{
		{"Gull 10", "skerry-10", `<p class="fault" id="field-8-fault">model "Gull 10": use small letters`},
		{"skerry-10", "rill-7", `<p class="fault" id="field-8-fault">model skerry-10 is there already`},
		{"gull-10", "skerry-10@1950", `<p class="fault" id="field-9-fault">skerry-10@1950`},
	} {
		w = posted(t, h, "new", url.Values{"deed": {"like"}, "of": {row.of}, "like": {row.like}})
		if page := html.UnescapeString(w.Body.String()); w.Code != http.StatusUnprocessableEntity || !strings.Contains(page, row.beside) {
			t.Errorf("a fault: %d, without %q\n%s", w.Code, row.beside, page)
		}
	}
}

// TestVerdictsComeAfterwards looks at the range, which is shown before any verdict is
// worked out, and looks that they come, by a link and by the script, and follow the file.
func TestVerdictsComeAfterwards(t *testing.T) {
	h, dir := showing(t)
	const verdict = "fit with reservations"
	if _, page := ask(h, ""); strings.Contains(page, verdict) {
		t.Error("the range is shown with a verdict")
	}
	if _, page := ask(h, "?verdicts=all"); !strings.Contains(page, verdict) {
		t.Errorf("no verdict in\n%s", page)
	}
	if status, said := ask(h, "verdict?of=skerry-10"); status != http.StatusOK || said != verdict {
		t.Errorf("%d, %q", status, said)
	}
	file := filepath.Join(dir, "models", "skerry-10.yaml")
	heavy := bytes.Replace(read(t, file), []byte("weight: at most 180 g"), []byte("weight: at most 80 g"), 1)
	if err := os.WriteFile(file, heavy, 0o666); err != nil {
		t.Fatal(err)
	}
	if status, said := ask(h, "verdict?of=skerry-10"); status != http.StatusOK || said == verdict || said == "" {
		t.Errorf("as heavy as it must not be: %d, %q", status, said)
	}
	for _, of := range []string{"", "no-such", "..%2fskerry-10", "models/skerry-10.yaml"} {
		if status, _ := ask(h, "verdict?of="+of); status != http.StatusNotFound {
			t.Errorf("%q: %d", of, status)
		}
	}
	b := pagetest.Visit(t, h)
	b.Show(t, "", pagetest.View{Width: 360})
	if said := b.Ask(t, `(async () => {
		const link = document.querySelector('td a[href*="overfall"][href*="review"]');
		const was = link.textContent;
		link.scrollIntoView();
		while (link.textContent === was) await new Promise((done) => setTimeout(done, 20));
		return link.textContent;
	})()`); !strings.Contains(said, "fit") {
		t.Errorf("by the script: %q", said)
	}
}

// TestOneFaultHarmsNoOther panics in a request, and in what it does in parallel.
func TestOneFaultHarmsNoOther(t *testing.T) {
	screen := (&screenServer{program: &program{err: io.Discard}}).guarded(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
		_ = evaluate.InParallel(r.Context(), 10, func(i int) {
			if i == 3 {
				panic("broken")
			}
		})
	}))
	if status, page := ask(screen, ""); status != http.StatusInternalServerError || strings.Contains(page, "broken") {
		t.Errorf("%d\n%s", status, page)
	}
}

// TestSlowClientsAreLeft sends half a head, and half a form.
func TestSlowClientsAreLeft(t *testing.T) {
	screen, _ := showing(t)
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := bounded(screen, 100*time.Millisecond)
	t.Cleanup(func() { server.Close() })
	go func() { _ = server.Serve(listener) }()
	for _, half := range []string{"GET / HTTP/1.1\r\nHost: local", "POST /do HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100\r\n\r\ndeed="} {
		conn, err := net.Dial("tcp", listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(conn, half); err != nil {
			t.Fatal(err)
		}
		answer, err := io.ReadAll(conn) // ends, since the server does not wait
		if err != nil || strings.Contains(string(answer), "200 OK") {
			t.Errorf("%v\n%s", err, answer)
		}
	}
}

// TestNoAddressLeadsElsewhere tries to come to files by an address.
func TestNoAddressLeadsElsewhere(t *testing.T) {
	screen, _ := showing(t)
	for _, address := range []string{
		"range.yaml", "models/skerry-10.yaml", "..%2frange.yaml", "rod?of=../../etc/passwd", "rod?of=models/skerry-10.yaml", "rod?of=/etc/passwd",
		"sheet?of=", "rod", "compare?of=skerry-10", "yearbook?year=..", "story?of=skerry-10%00", "review?of=%3Cscript%3Ealert(1)%3C/script%3E",
	} {
		status, page := ask(screen, address)
		if status != http.StatusNotFound || strings.Contains(page, "root:") || strings.Contains(page, "<script>alert") {
			t.Errorf("%s: %d\n%s", address, status, page)
		}
	}
}

// TestViewsFollowTheFiles edits a spec, breaks it and mends it.
func TestViewsFollowTheFiles(t *testing.T) {
	screen, dir := showing(t)
	file := filepath.Join(dir, "models", "wrack-9.yaml")
	was, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	write := func(content string) {
		if err := os.WriteFile(file, []byte(content), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	wants := func(address, want string) {
		t.Helper()
		if status, page := ask(screen, address); status != http.StatusOK || !strings.Contains(html.UnescapeString(page), want) {
			t.Errorf("%s: %d, without %q", address, status, want)
		}
	}
	write(strings.Replace(string(was), "name: Wrack 9", "name: Wrack <9>", 1))
	wants("", "Wrack <9>")
	write(strings.Replace(string(was), "length: 9 ft", "length: 9", 1))
	wants("", `length: "9" has no unit`)
	wants("rod?of=wrack-9", `length: "9" has no unit`)
	wants("rod?of=skerry-10", "Every revision")
	write(string(was))
	wants("rod?of=wrack-9", "Every revision")
}

// TestManyLookAtOnce has one answer for all, whoever else asks.
func TestManyLookAtOnce(t *testing.T) {
	screen, _ := showing(t)
	_, want := ask(screen, "compare?of=skerry-10@2025&with=skerry-10@2026")
	var all sync.WaitGroup
	for range 3 * mostViews {
		all.Go(func() {
			if status, page := ask(screen, "compare?of=skerry-10@2025&with=skerry-10@2026"); status != http.StatusOK || page != want {
				t.Errorf("%d, and another page", status)
			}
		})
	}
	all.Wait()
}

// TestServeEnds ends with its context, and tells of a port that is taken and of a
// folder without a range before it offers anything.
func TestServeEnds(t *testing.T) {
	_, dir := showing(t)
	ctx, cancel := context.WithCancel(context.Background())
	told := make(chan string, 1)
	p := &program{dir: dir, printer: printer{env: func(string) string { return "off" }}, now: scriptClock, err: writing(func(b []byte) { told <- string(b) })}
	ended := make(chan error, 1)
	go func() { ended <- p.serve(ctx, 0, false, false, "") }()
	address, _, _ := strings.Cut(<-told, " ")
	answer, err := http.Get(address)
	if err != nil || answer.StatusCode != http.StatusOK {
		t.Fatalf("%s: %v, %v", address, answer, err)
	}
	page, err := io.ReadAll(answer.Body)
	answer.Body.Close()
	if err != nil {
		t.Fatal(err)
	}
	follows, err := http.Get(address + "changes?" + sinceIn.FindStringSubmatch(string(page))[1])
	if err != nil {
		t.Fatal(err)
	}
	defer follows.Body.Close()
	cancel()
	if told, _ := io.ReadAll(follows.Body); len(told) > 0 { // it ends, and by nothing that the files did
		t.Errorf("whoever follows the files is told %q", told)
	}
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Errorf("ended by %v", err)
	}
	none := &program{dir: t.TempDir(), printer: printer{env: func(string) string { return "off" }}, now: scriptClock, err: io.Discard}
	if err := none.serve(context.Background(), 0, false, false, ""); err == nil {
		t.Error("a folder without a range is shown")
	}
}

// writing is a function as a writer.
type writing func([]byte)

func (w writing) Write(b []byte) (int, error) { w(b); return len(b), nil }
