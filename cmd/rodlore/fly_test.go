package main

import (
	"fmt"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// notOfFly are words of rods that cast a weight. A fly rod casts its line.
var notOfFly = regexp.MustCompile(`(?i)\b(leads?|drop\w*|lures?|baits?|casting weight)\b`)

// flyRuns are command lines about a fly rod, in the order in which they are given: all
// but those that begin a range or another model.
var flyRuns = []string{
	"check rill-7", "figures rill-7 --all --explain", "figures rill-7 --sources third-load", "bend rill-7 --load 50g",
	"cast rill-7", "limits rill-7", "models", "history rill-7", "compare rill-7@2021 rill-7 --all", "compare rill-7@2021 rill-7 --shares",
	"patterns rill-7", "steps rill-7@2021 --to rill-7@2026 --releases 3", "review rill-7", "review rill-7 --html review.html",
	"measure rill-7@2026 --rod 0301 --what weight --reading 84g", "measure rill-7@2026 --rod 0301 --what drop --reading 640mm --load 20g",
	"fit bench/rill-7-0301.yaml", "sheet rill-7 --out sheet.html", "story rill-7 --out story.html", "story rill-7 --for workshop --out workshop.md",
	"heard rill-7@2026 --said it-is-quick", "heard rill-7", "built add rill-7@2026 --serial 0999", "built show 0999", "built match 0999",
	"built repair 0999 --done a-ring", "built list rill-7", "built chart rill-7", "set rill-7 rings[0].whipping=9mm", "save rill-7 --why whipped-again",
	"yearbook 2026 --out year.html", "release rill-7 2027", "put-back rill-7@2026",
}

// TestFlyRodsHaveNoLead reads all that commands, pages and the screen say of a fly rod.
func TestFlyRodsHaveNoLead(t *testing.T) {
	s := newShell(t)
	s.demo()
	quiet := func(where, text string) {
		t.Helper()
		for _, found := range notOfFly.FindAllStringIndex(text, -1) {
			t.Errorf("%s: …%s…", where, text[max(0, found[0]-40):min(len(text), found[1]+40)])
		}
	}
	for _, run := range flyRuns {
		stdout, stderr, code := s.try(strings.Fields("-C range " + run)...)
		if code == 2 {
			t.Errorf("%s: %s", run, stderr)
		}
		quiet(run, stdout+stderr)
	}
	for _, page := range []string{"review.html", "sheet.html", "story.html", "workshop.md", "year.html"} {
		text, err := os.ReadFile(filepath.Join(s.dir, "range", page))
		if err != nil {
			t.Fatal(err)
		}
		if page != "year.html" { // of other rods too
			quiet(page, readable(string(text)))
		}
	}
	screen, _ := showing(t)
	seen, next := map[string]bool{}, []string{""}
	for len(next) > 0 {
		address := next[0]
		next = next[1:]
		_, page := ask(screen, address)
		if address != "" { // the range, of all its rods
			quiet(address, readable(page))
		}
		for _, m := range hrefs.FindAllStringSubmatch(page, -1) {
			if to := html.UnescapeString(m[1]); !seen[to] && strings.Contains(to, "rill-7") && !slices.ContainsFunc([]string{"ferry", "groyne", "overfall", "skerry", "wrack"}, func(other string) bool { return strings.Contains(to, other) }) {
				seen[to], next = true, append(next, to)
			}
		}
	}
	if len(seen) < 10 {
		t.Errorf("only %d views were seen: %s", len(seen), fmt.Sprint(seen))
	}
}

// dropKey is what a reading is written under in bench files, whatever the rod.
var dropKey = regexp.MustCompile(`\bdrop\s+\{drop: `)

var marked = regexp.MustCompile(`(?s)<(script|style).*?</(script|style)>|<[^>]*>`)

// readable is the text of a page.
func readable(page string) string {
	return dropKey.ReplaceAllString(html.UnescapeString(marked.ReplaceAllString(page, " ")), "")
}
