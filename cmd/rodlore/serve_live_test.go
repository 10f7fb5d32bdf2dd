package main

import (
	"bufio"
	"context"
	"errors"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"rodlore/catalogue/pages/pagetest"
)

// following is the screen of a copy of the demo that follows its files, and the folder
// of the copy.
func following(t *testing.T) (http.Handler, string) {
	t.Helper()
	s, dir := ofDemo(t)
	if err := s.files.follow(t.Context(), dir); err != nil {
		t.Fatal(err)
	}
	return s.views(), dir
}

var sinceIn = regexp.MustCompile(`screen\.js\?(since=[^"]+)"`)

// TestChangesAreTold edits, adds, saves and releases, and looks that whoever follows
// the files is told of each once, and of nothing else.
func TestChangesAreTold(t *testing.T) {
	views, dir := following(t)
	server := httptest.NewServer(views)
	t.Cleanup(server.Close)
	spec := filepath.Join(dir, "models", "wrack-9.yaml")
	edit := func(path, content string) {
		t.Helper()
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(content), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	was, err := os.ReadFile(spec)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		name  string
		do    func()
		tells bool
	}{
		{"nothing", func() {}, false},
		{"an edit", func() { edit(spec, string(was)+"# longer\n") }, true},
		{"another way of writing", func() {
			edit(spec+".new", string(was))
			if err := os.Rename(spec+".new", spec); err != nil {
				t.Fatal(err)
			}
		}, true},
		{"a folder of records and a file in it", func() { edit(filepath.Join(dir, "bench", "2027", "new.yaml"), "of: wrack-9") }, true},
		{"an editor's hidden file", func() { edit(filepath.Join(dir, ".wrack-9.yaml.swp"), "x") }, false},
		{"git looking at its index", func() { edit(filepath.Join(dir, ".git", "index.lock"), "x") }, false},
		{"a release", func() { edit(filepath.Join(dir, ".git", "refs", "tags", "wrack-9", "x"), "x") }, true},
		{"a view", func() { ask(views, "rod?of=wrack-9") }, false},
	} {
		_, page := ask(views, "")
		since := sinceIn.FindStringSubmatch(page)
		if since == nil {
			t.Fatalf("no script in\n%.300s", page)
		}
		row.do()
		ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
		if !row.tells {
			ctx, cancel = context.WithTimeout(t.Context(), 3*settled)
		}
		told, err := toldOf(ctx, server.URL+"/changes?"+since[1])
		cancel()
		if row.tells && (err != nil || !strings.HasPrefix(told, "data: The files of the range have changed")) || !row.tells && told != "" {
			t.Errorf("%s: told %q, %v", row.name, told, err)
		}
		time.Sleep(2 * settled) // all of it is one change
	}
}

// toldOf is the first line that is told.
func toldOf(ctx context.Context, address string) (string, error) {
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, address, nil)
	if err != nil {
		return "", err
	}
	r.Host = "localhost"
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		return "", err
	}
	defer answer.Body.Close()
	return bufio.NewReader(answer.Body).ReadString('\n')
}

// TestFollowersAreBounded turns away whoever comes when too many follow already.
func TestFollowersAreBounded(t *testing.T) {
	s, _ := ofDemo(t)
	for range mostFollowers {
		s.followers <- struct{}{}
	}
	if status, _ := ask(s.views(), "changes?"+url.Values{"since": {"x"}}.Encode()); status != http.StatusServiceUnavailable {
		t.Errorf("one too many: %d", status)
	}
}

// TestViewFollowsFilesInABrowser edits a file while its view is shown: the view shows
// it, and says so where something was entered.
func TestViewFollowsFilesInABrowser(t *testing.T) {
	views, dir := following(t)
	b := pagetest.Visit(t, views)
	spec := filepath.Join(dir, "models", "wrack-9.yaml")
	was, err := os.ReadFile(spec)
	if err != nil {
		t.Fatal(err)
	}
	rename := func(name string) {
		t.Helper()
		// In one step: a page that was laid out between two would reload once more, and
		// what was entered meanwhile would be gone.
		whole := filepath.Join(t.TempDir(), "wrack-9.yaml")
		text := strings.Replace(string(was), "name: Wrack 9", "name: "+name, 1)
		if err := errors.Join(os.WriteFile(whole, []byte(text), 0o666), os.Rename(whole, spec)); err != nil {
			t.Fatal(err)
		}
	}
	comes := func(script string) {
		t.Helper()
		for until := time.Now().Add(30 * time.Second); b.Ask(t, "String("+script+")") != "true"; time.Sleep(50 * time.Millisecond) {
			if time.Now().After(until) {
				t.Fatalf("%s never comes to be", script)
			}
		}
	}
	b.Show(t, "", pagetest.View{Width: 1280})
	rename("Wrack Nine")
	comes(`document.body?.innerText.includes("Wrack Nine")`)
	b.Ask(t, `dispatchEvent(new Event("input")); ""`)
	rename("Wrack Ten")
	comes(`document.querySelector("[role=status]")?.innerText.startsWith("The files of the range have changed")`)
	if b.Ask(t, `String(document.body?.innerText.includes("Wrack Nine"))`) != "true" {
		t.Error("what was entered is gone")
	}
	b.Ask(t, `document.querySelector("[role=status] a").click(); ""`)
	comes(`document.body?.innerText.includes("Wrack Ten")`)
}
