package pagetest

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	printing "github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// Validate holds HTML pages, by name, against the rules of the standard, as
// html-validate has them, and reports every fault.
func Validate(t testing.TB, pages map[string][]byte) {
	t.Helper()
	if out, err := validate(t, pages); err != nil {
		t.Errorf("html-validate: %v\n%s", err, out)
	}
}

func validate(t testing.TB, pages map[string][]byte) ([]byte, error) {
	t.Helper()
	tool := installed(t, "html-validate/bin/html-validate.mjs")
	dir := t.TempDir()
	write(t, dir, "config.json", []byte(`{"root": true, "extends": ["html-validate:standard"]}`))
	args := []string{tool, "--config", filepath.Join(dir, "config.json")}
	for name, page := range pages {
		args = append(args, write(t, dir, strings.ReplaceAll(name, "/", "_"), page))
	}
	return exec.Command(program(t, "node"), args...).CombinedOutput()
}

func write(t testing.TB, dir, name string, content []byte) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, content, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// View is how a page is looked at.
type View struct {
	Width int // CSS pixels
	Dark  bool
	Large bool // with letters twice the usual size
	Still bool // for people whom motion troubles
}

// Views are a phone and a desk, by day and by night, and a phone with large
// letters.
var Views = []View{{Width: 360}, {Width: 360, Dark: true}, {Width: 1280}, {Width: 1280, Dark: true}, {Width: 360, Large: true}}

// Browser is a headless browser with its own server for the pages given by
// name.
type Browser struct {
	ctx context.Context
	url string
	axe string

	mu    sync.Mutex
	heard []string // that no page may do
}

// Open starts a browser, which ends with the test, on pages by name.
func Open(t testing.TB, pages map[string][]byte) *Browser {
	t.Helper()
	return Visit(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := strings.TrimPrefix(r.URL.Path, "/")
		page, ok := pages[name]
		if name == "favicon.ico" { // which a browser asks for by itself
			w.WriteHeader(http.StatusNoContent)
			return
		}
		if !ok {
			http.NotFound(w, r)
			return
		}
		http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(page))
	}))
}

// Visit starts a browser, which ends with the test, on what a handler serves. Whatever is
// done in it, the test fails where a page throws, tells the console of an error, or asks
// another host.
func Visit(t testing.TB, served http.Handler) *Browser {
	t.Helper()
	path := program(t, "chromium")
	axe, err := os.ReadFile(installed(t, "axe-core/axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(served)
	t.Cleanup(func() {
		server.CloseClientConnections() // some follow what is served
		server.Close()
	})
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox,
		chromedp.UserDataDir(t.TempDir()), chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
	ctx, cancel := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil { // starts it: the context of the first step ends it
		t.Fatal(err)
	}
	b := &Browser{ctx: ctx, url: server.URL + "/", axe: string(axe)}
	if err := chromedp.Listen(ctx, b.hear); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		b.mu.Lock()
		defer b.mu.Unlock()
		for _, what := range b.heard {
			t.Error(what)
		}
	})
	return b
}

// hear notes what no page may do.
func (b *Browser) hear(event any) {
	what := ""
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		what = "a page throws: " + e.ExceptionDetails.Text
		if thrown := e.ExceptionDetails.Exception; thrown != nil {
			what += ": " + thrown.Description
		}
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeWarning {
			what = "a page tells the console of an error:"
			for _, said := range e.Args {
				what += " " + string(said.Value) + said.Description
			}
		}
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError {
			what = "the browser tells of an error: " + e.Entry.Text + " " + e.Entry.URL
		}
	case *network.EventRequestWillBeSent:
		at := e.Request.URL
		if !strings.HasPrefix(at, b.url) && !strings.HasPrefix(at, "data:") && !strings.HasPrefix(at, "blob:"+b.url) {
			what = "a page asks another host: " + at
		}
	}
	if what != "" {
		b.mu.Lock()
		defer b.mu.Unlock()
		b.heard = append(b.heard, what)
	}
}

// Show shows a page in a view.
func (b *Browser) Show(t testing.TB, page string, v View) {
	t.Helper()
	scheme := "light"
	if v.Dark {
		scheme = "dark"
	}
	motion := "no-preference"
	if v.Still {
		motion = "reduce"
	}
	media := emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: motion},
	}}
	if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, media); err != nil {
		t.Fatal(err)
	}
	b.do(t, chromedp.EmulateViewport(int64(v.Width), 800), chromedp.Navigate(b.url+page))
	if v.Large {
		b.Ask(t, `document.documentElement.style.fontSize = "200%"`)
	}
}

// Printed is the page that is shown, as the browser prints it to PDF.
func (b *Browser) Printed(t testing.TB) []byte {
	t.Helper()
	ofThePage := true
	printed, err := chromedp.Call(b.ctx, printing.PrintToPDF, printing.PrintToPDFParams{PreferCSSPageSize: &ofThePage})
	if err != nil {
		t.Fatal(err)
	}
	return printed.Data
}

// Seen is the page that is shown, as far as the screen shows it, as a PNG.
func (b *Browser) Seen(t testing.TB) []byte {
	t.Helper()
	seen, err := chromedp.Call(b.ctx, printing.CaptureScreenshot, printing.CaptureScreenshotParams{})
	if err != nil {
		t.Fatal(err)
	}
	return seen.Data
}

// Press presses a key on what has the keyboard.
func (b *Browser) Press(t testing.TB, key string) {
	t.Helper()
	b.do(t, chromedp.KeyEvent(key))
}

// do does something within a minute.
func (b *Browser) do(t testing.TB, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, time.Minute)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		t.Fatal(err)
	}
}

// Drag drags what a selector finds so many pixels to the right, from the place that a
// script gives for it.
func (b *Browser) Drag(t testing.TB, selector, from string, right float64) {
	t.Helper()
	var at [2]float64
	place := b.Ask(t, fmt.Sprintf("JSON.stringify((%s)(document.querySelector(%q)))", from, selector))
	if err := json.Unmarshal([]byte(place), &at); err != nil {
		t.Fatal(err)
	}
	b.do(t,
		chromedp.MouseEvent(chromedp.MousePressed, at[0], at[1], chromedp.ButtonLeft),
		chromedp.MouseEvent(chromedp.MouseMoved, at[0]+right/2, at[1], chromedp.ButtonLeft),
		chromedp.MouseEvent(chromedp.MouseMoved, at[0]+right, at[1], chromedp.ButtonLeft),
		chromedp.MouseEvent(chromedp.MouseReleased, at[0]+right, at[1], chromedp.ButtonLeft))
}

// Comes waits until a page is shown at an address that begins so.
func (b *Browser) Comes(t testing.TB, address string) {
	t.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		ctx, cancel := context.WithTimeout(b.ctx, time.Minute)
		at, err := chromedp.Run(ctx, chromedp.Evaluate[string](`document.readyState === "complete" ? location.pathname + location.search : ""`))
		cancel()
		if err == nil && strings.HasPrefix(at, address) { // an error is that of a page that goes
			return
		}
	}
	t.Fatalf("%s is not shown", address)
}

// Ask gives what a script says on the page that is shown, as text.
func (b *Browser) Ask(t testing.TB, script string) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, time.Minute)
	defer cancel()
	answer, err := chromedp.Run(ctx, chromedp.Evaluate[string](script, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatalf("%.200s: %v", script, err)
	}
	return answer
}

// Accessible reports what axe-core finds wrong with a page in every one of
// Views, and whether the page is wider than the view.
func (b *Browser) Accessible(t testing.TB, page string) {
	t.Helper()
	for _, v := range Views {
		b.Show(t, page, v)
		for _, fault := range b.faults(t) {
			t.Errorf("%s at %+v: %s", page, v, fault)
		}
	}
}

func (b *Browser) faults(t testing.TB) []string {
	t.Helper()
	b.Ask(t, b.axe+`; ""`)
	found := b.Ask(t, `axe.run().then(r => JSON.stringify(r.violations.map(v =>
		v.id + ": " + v.help + " at " + v.nodes.map(n => n.target.join(" ")).join(", "))))`)
	var faults []string
	if err := json.Unmarshal([]byte(found), &faults); err != nil {
		t.Fatal(err)
	}
	if width := b.Ask(t, `String(document.documentElement.scrollWidth - innerWidth)`); width[0] != '-' && width != "0" {
		faults = append(faults, "the page is wider than the screen by "+width+" pixels")
	}
	return faults
}
