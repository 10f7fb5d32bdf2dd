package models_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/models"
)

func TestParseReviews(t *testing.T) {
	src := "# by the window\nticked:\n  - {check: feet, revision: 53d3cc7b, date: 2026-11-07, by: MK}\n  - {check: tip ring, revision: 12345678, date: 2026-11-08, by: MK}\n"
	r, err := models.ParseReviews("reviews/skerry-10.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	tick := r.Ticked[1]
	if len(r.Ticked) != 2 || tick.Check.Text != "tip ring" || tick.Revision.Text != "12345678" || tick.Date.Text != "2026-11-08" || tick.By.Text != "MK" || tick.Pos.Line != 4 {
		t.Errorf("got %+v", r.Ticked)
	}
	if r, err := models.ParseReviews("reviews/skerry-10.yaml", nil); err != nil || len(r.Ticked) != 0 {
		t.Errorf("of an empty file %+v, %v", r, err)
	}
}

func TestReviewFaults(t *testing.T) {
	for _, tt := range []struct{ name, line, want string }{
		{"no check", "{revision: 53d3cc7b, date: 2026-11-07, by: MK}", "2:5: ticked[1].check: is missing"},
		{"no identity", "{check: feet, revision: 2026, date: 2026-11-07, by: MK}", `2:29: ticked[1].revision: "2026" is no identity; expected 8 characters of it or more`},
		{"no hexadecimal", "{check: feet, revision: skerry-10, date: 2026-11-07, by: MK}", `"skerry-10" is no identity`},
		{"no day", "{check: feet, revision: 53d3cc7b, date: yesterday, by: MK}", `"yesterday" is not a day such as 2026-11-07`},
		{"nobody", "{check: feet, revision: 53d3cc7b, date: 2026-11-07, by: }", "ticked[1].by: is empty"},
		{"another key", "{check: feet, revision: 53d3cc7b, date: 2026-11-07, by: MK, done: yes}", `unknown key "done"`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := models.ParseReviews("reviews/x.yaml", []byte("ticked:\n  - "+tt.line+"\n"))
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want one that says %q", err, tt.want)
			}
		})
	}
}

// A range's own checks follow those of common practice, and one of the same name
// takes its place. One range's checks do not leak into the next.
func TestChecksByHand(t *testing.T) {
	common := models.DefaultSettings().ByHand
	own, err := models.ParseSettings("range.yaml", []byte("by hand:\n  - {check: hook keeper}\n  - {check: feet, look: filed and polished}\n"))
	if err != nil {
		t.Fatal(err)
	}
	if len(own.ByHand) != len(common)+1 || own.ByHand[len(common)].Check.Text != "hook keeper" {
		t.Errorf("checks %v", own.ByHand)
	}
	for i, c := range common {
		want := c.Look.Text
		if c.Check.Text == "feet" {
			want = "filed and polished"
		}
		if own.ByHand[i].Check.Text != c.Check.Text || own.ByHand[i].Look.Text != want {
			t.Errorf("check %d is %v, want %s: %s", i, own.ByHand[i], c.Check, want)
		}
		if c.Look.Text == "" {
			t.Errorf("%s does not say what to look for", c.Check)
		}
	}
	if diff := cmp.Diff(common, models.DefaultSettings().ByHand); diff != "" {
		t.Errorf("the checks of common practice have changed:\n%s", diff)
	}
	_, err = models.ParseSettings("range.yaml", []byte("by hand:\n  - {check: hook keeper}\n  - {check: hook keeper}\n"))
	if err == nil || !strings.Contains(err.Error(), `range.yaml:3:5: by hand: "hook keeper" is given twice; the first is in line 2`) {
		t.Errorf("a check given twice: %v", err)
	}
}
