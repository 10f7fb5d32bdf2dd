package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rodlore/catalogue"
	"rodlore/catalogue/gitstore"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/pagetest"
	"rodlore/catalogue/pages/yearbook"
)

// demoYears are the years of the demo, with one before it and one after it.
var demoYears = []int{2020, 2021, 2022, 2023, 2024, 2025, 2026, 2027}

// yearbooks are the books of the demo's years in one form, by the names of their
// files.
func yearbooks(t *testing.T, form string) map[string][]byte {
	t.Helper()
	s := newShell(t)
	s.demo()
	pages := map[string][]byte{}
	for _, year := range demoYears {
		name := strconv.Itoa(year) + form
		s.must("-C", "range", "yearbook", strconv.Itoa(year), "--out", name)
		page, err := os.ReadFile(filepath.Join("range", name))
		if err != nil {
			t.Fatal(err)
		}
		pages[name] = page
	}
	return pages
}

var (
	otherMachine = regexp.MustCompile(`(?i)(https?:|//[a-z])`)
	ownContact   = regexp.MustCompile(`(?:href|src)="(?:data:[^"]*|https://tarrowmouth\.example)"`)
	linkTo       = regexp.MustCompile(`href="#([^"]*)"`)
)

func TestYearbooksOnTheScreen(t *testing.T) {
	pages := yearbooks(t, ".html")
	pagetest.Validate(t, pages)
	for name, page := range pages {
		if len(page) > 250e3 { // the figure to reach
			t.Errorf("%s has %d bytes", name, len(page))
		}
		if found := otherMachine.Find(ownContact.ReplaceAll(page, nil)); found != nil {
			t.Errorf("%s names another machine: %q", name, found)
		}
		for _, m := range linkTo.FindAllSubmatch(page, -1) {
			if !bytes.Contains(page, fmt.Appendf(nil, `id="%s"`, m[1])) {
				t.Errorf("%s: the link to %s leads nowhere", name, m[1])
			}
		}
	}
	b := pagetest.Open(t, pages)
	for _, name := range []string{"2020.html", "2023.html", "2025.html", "2026.html"} {
		b.Accessible(t, name)
	}
	b.Show(t, "2025.html", pagetest.Views[2])
	onPaper, file := pagetest.PDFPages(t, b.Printed(t)), pagetest.PDFPages(t, yearbooks(t, ".pdf")["2025.pdf"])
	if len(onPaper) > len(file) {
		t.Errorf("the book prints on %d sheets, its PDF on %d", len(onPaper), len(file))
	}
}

// A printed book names every model that there was, and says where every ring of
// every rod stands that was released. The places are those of the files in the
// states that git's tags of the year point to.
func TestYearbooksOnPaper(t *testing.T) {
	pages := yearbooks(t, ".pdf")
	for _, year := range []int{2021, 2022, 2023, 2024, 2025, 2026} {
		t.Run(strconv.Itoa(year), func(t *testing.T) {
			said := pagetest.PDFText(t, pages[strconv.Itoa(year)+".pdf"])
			for _, tag := range tagsOf(t, year) {
				model, _, _ := strings.Cut(tag, "/")
				spec := git(t, "show", tag+":models/"+model+".yaml")
				for _, at := range ringPlace.FindAllStringSubmatch(spec, -1) {
					if !regexp.MustCompile(`\b` + at[1] + `\b`).MatchString(said) {
						t.Errorf("%s has a ring at %s mm, which is not in the book", tag, at[1])
					}
				}
			}
			end := git(t, "rev-list", "-1", fmt.Sprintf("--before=%d-12-31T23:59:59Z", year), "HEAD")
			for _, file := range strings.Fields(git(t, "ls-tree", "--name-only", strings.TrimSpace(end), "models/")) {
				spec := git(t, "show", strings.TrimSpace(end)+":"+file)
				if name := specName.FindStringSubmatch(spec)[1]; !strings.Contains(said, name) {
					t.Errorf("%s is not in the book", name)
				}
			}
		})
	}
}

var (
	ringPlace = regexp.MustCompile(`(?m)^  - \{at: (\d+) mm, part:`)
	specName  = regexp.MustCompile(`(?m)^name: (.*)$`)
)

// tagsOf are git's tags of a year.
func tagsOf(t *testing.T, year int) []string {
	t.Helper()
	var tags []string
	for line := range strings.Lines(git(t, "for-each-ref", "refs/tags", "--format=%(taggerdate:format:%Y) %(refname:short)")) {
		of, tag, _ := strings.Cut(strings.TrimSpace(line), " ")
		if of == strconv.Itoa(year) {
			tags = append(tags, tag)
		}
	}
	return tags
}

// The numbers of every year are those that git and the files of builds/ and
// heard/ have without us.
func TestYearbookCountsAgainstGit(t *testing.T) {
	s := newShell(t)
	s.demo()
	for _, year := range demoYears {
		t.Run(strconv.Itoa(year), func(t *testing.T) {
			var doc printed
			s.data(&doc, "-C", "range", "yearbook", strconv.Itoa(year))
			if want := len(tagsOf(t, year)); doc.Counts.Releases != want {
				t.Errorf("%d releases, git has %d tags", doc.Counts.Releases, want)
			}
			day := regexp.MustCompile(fmt.Sprintf(`date: %d-\d\d-\d\d`, year))
			builds, _ := os.ReadFile(fmt.Sprintf("range/builds/%d.yaml", year))
			rods, repairs, _ := strings.Cut(string(builds), "repairs:")
			if want := len(day.FindAllString(rods, -1)); doc.Counts.Rods != want {
				t.Errorf("%d rods, the file has %d", doc.Counts.Rods, want)
			}
			if want := len(day.FindAllString(repairs, -1)); doc.Counts.Repairs != want {
				t.Errorf("%d repairs, the file has %d", doc.Counts.Repairs, want)
			}
			remarks := 0
			files, err := filepath.Glob("range/heard/*.yaml")
			if err != nil {
				t.Fatal(err)
			}
			for _, file := range files {
				src, err := os.ReadFile(file)
				if err != nil {
					t.Fatal(err)
				}
				remarks += len(day.FindAll(src, -1))
			}
			if doc.Counts.Remarks != remarks {
				t.Errorf("%d remarks, the files have %d", doc.Counts.Remarks, remarks)
			}
			checkSaved(t, doc, year)
		})
	}
}

// checkSaved holds what the book says was made of each model against git's log
// of the model's file: each of its states in the year is told of, as released or
// on the way. Shared parts make further revisions, which the log does not show.
func checkSaved(t *testing.T, doc printed, year int) {
	t.Helper()
	for _, m := range doc.Models {
		told := map[string]bool{}
		for _, p := range m.Prototypes {
			told[p.Date.Format("2006-01-02")] = true
		}
		for _, i := range m.Releases {
			told[i.Step.Date.Format("2006-01-02")] = true
		}
		days := strings.Fields(git(t, "log", "--follow", "-M90%", "--date=short", "--format=%ad", "--", "models/"+m.Model+".yaml"))
		days = slices.DeleteFunc(days, func(d string) bool { return !strings.HasPrefix(d, strconv.Itoa(year)) })
		for _, d := range days {
			if !told[d] {
				t.Errorf("%s was saved on %s, of which the book does not tell", m.Model, d)
			}
		}
	}
}

// BenchmarkYearbook gathers a year of the demo, works all figures out anew, and
// lays the book out as a page.
func BenchmarkYearbook(b *testing.B) {
	dir := filepath.Join(b.TempDir(), "range")
	if err := copyDemo(dir); err != nil {
		b.Fatal(err)
	}
	store, err := gitstore.Open(dir)
	if err != nil {
		b.Fatal(err)
	}
	defer store.Close()
	b.ReportAllocs()
	for b.Loop() {
		r, err := catalogue.Open(context.Background(), store)
		if err != nil {
			b.Fatal(err)
		}
		y, err := r.Year(b.Context(), 2025, scriptClock())
		if err != nil {
			b.Fatal(err)
		}
		d, err := yearbook.Of(r, y, yearbook.Options{Now: scriptClock(), Paper: document.A4})
		if err != nil {
			b.Fatal(err)
		}
		var page bytes.Buffer
		if err := d.HTML(&page); err != nil {
			b.Fatal(err)
		}
	}
}

// git gives what git says in the folder range.
func git(t *testing.T, args ...string) string {
	t.Helper()
	out, err := exec.Command("git", append([]string{"-C", "range"}, args...)...).Output()
	if err != nil {
		t.Fatalf("git %s: %v", strings.Join(args, " "), err)
	}
	return string(out)
}
