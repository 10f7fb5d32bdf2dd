package main

import (
	"context"
	"errors"
	"fmt"
	"html"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"rodlore/catalogue/pages/pagetest"
)

// showing is the screen of a copy of the demo, and the folder of the copy.
func showing(t *testing.T) (http.Handler, string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "range")
	if err := copyDemo(dir); err != nil {
		t.Fatal(err)
	}
	return screenOf(t, dir).views(), dir
}

func screenOf(t *testing.T, dir string) *screenServer {
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

// TestViewsLeadToEachOther follows every link from the range on, looks at a page of
// each kind in a browser and at all as HTML.
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
				if to := html.UnescapeString(m[1]); !seen[to] {
					seen[to], next = true, append(next, to)
				}
			}
		}
	}
	for view := range viewsByName {
		if kinds[view] == "" {
			t.Errorf("no link leads to %q", view)
		}
	}
	pagetest.Validate(t, pages)
	b := pagetest.Open(t, pages)
	for _, view := range []string{"", "rod", "compare"} { // the others are looked at where they are made
		b.Accessible(t, kinds[view])
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
	go func() { ended <- p.serve(ctx, 0, false) }()
	address, _, _ := strings.Cut(<-told, " ")
	answer, err := http.Get(address)
	if err != nil || answer.StatusCode != http.StatusOK {
		t.Fatalf("%s: %v, %v", address, answer, err)
	}
	answer.Body.Close()
	cancel()
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Errorf("ended by %v", err)
	}
	none := &program{dir: t.TempDir(), printer: printer{env: func(string) string { return "off" }}, now: scriptClock, err: io.Discard}
	if err := none.serve(context.Background(), 0, false); err == nil {
		t.Error("a folder without a range is shown")
	}
}

// writing is a function as a writer.
type writing func([]byte)

func (w writing) Write(b []byte) (int, error) { w(b); return len(b), nil }
