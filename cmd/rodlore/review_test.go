package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"rodlore/catalogue/pages/pagetest"
)

// TestReviewPages holds the pages of reviews against a validator and a browser:
// of a draft, of a release with measurements and ticks, of the first release and
// of what is not fit.
func TestReviewPages(t *testing.T) {
	s := newShell(t)
	s.demo()
	s.must("-C", "range", "review", "skerry-10@2026", "--tick", "feet", "--tick", "curve", "--by", "MK")
	steps := []byte("units: both\nsteps: {rings: 0}\n")
	pages := map[string][]byte{}
	for _, arg := range []string{"skerry-10", "skerry-10@2026", "rill-7@2021", "groyne-13@2026"} {
		pages[arg+".html"] = s.page(arg)
	}
	if err := os.WriteFile(filepath.Join("range", "range.yaml"), steps, 0o666); err != nil {
		t.Fatal(err)
	}
	pages["not-fit.html"] = s.page("skerry-10")
	for name, says := range map[string]string{
		"skerry-10@2026.html": "MK, 2026-11-25", "rill-7@2021.html": "no earlier release", "not-fit.html": "Verdict: not fit",
	} {
		if !bytes.Contains(pages[name], []byte(says)) {
			t.Errorf("%s does not say %q", name, says)
		}
	}
	pagetest.Validate(t, pages)
	b := pagetest.Open(t, pages)
	for name := range pages {
		b.Accessible(t, name)
	}
}

// page writes the review of a revision as a page.
func (s *shell) page(arg string) []byte {
	s.t.Helper()
	if _, errs, _ := s.try("-C", "range", "review", arg, "--html", "review.html"); errs != "" {
		s.t.Fatal(errs)
	}
	page, err := os.ReadFile(filepath.Join("range", "review.html"))
	if err != nil {
		s.t.Fatal(err)
	}
	return page
}

// TestTicksAtOnce ticks checks from several runs at the same time: none is lost.
func TestTicksAtOnce(t *testing.T) {
	s := newShell(t)
	s.demo()
	checks := []string{"tip ring", "feet", "inserts", "whippings", "varnish", "joints", "spine", "reel seat"}
	var runs sync.WaitGroup
	for i, check := range checks {
		runs.Go(func() {
			if _, errs, code := s.try("-C", "range", "review", "wrack-9", "--tick", check, "--by", fmt.Sprint("M", i)); code != 0 {
				t.Error(errs)
			}
		})
	}
	runs.Wait()
	var doc printed
	s.data(&doc, "-C", "range", "review", "wrack-9")
	for _, c := range doc.ByHand {
		if (c.By != nil) != slices.Contains(checks, c.Check) {
			t.Errorf("%s is ticked by %v", c.Check, c.By)
		}
	}
}

// TestReviewShares holds what a review says of rods against the figures: a want
// that the figure just meets is met by half of the rods.
func TestReviewShares(t *testing.T) {
	s := newShell(t)
	s.demo()
	var figures printed
	s.data(&figures, "-C", "range", "figures", "wrack-9")
	weight := figures.Figures[0]
	file := filepath.Join("range", "models", "wrack-9.yaml")
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	edited := strings.Replace(string(src), "weight: at most 150 g", fmt.Sprintf("weight: at most %.6f g", 1e3*weight.Value+1e-6), 1)
	if err := os.WriteFile(file, []byte(edited), 0o666); err != nil {
		t.Fatal(err)
	}
	var doc printed
	s.data(&doc, "-C", "range", "review", "wrack-9")
	// A normal figure lies below its value in half of the rods; the limit has six
	// decimals of a gram, and the tolerance is some grams.
	if share := *doc.Wants[0].Share; doc.Wants[0].Figure != "weight" || share < 0.4999 || share > 0.5001 {
		t.Errorf("%s is met by %g of the rods", doc.Wants[0].Figure, share)
	}
}
