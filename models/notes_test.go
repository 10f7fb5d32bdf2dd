package models_test

import (
	"strings"
	"testing"

	"rodlore/models"
)

func TestParseNotes(t *testing.T) {
	n, err := models.ParseNotes("notes/rill-7.yaml", []byte(`reworded:
  - {release: 2026, date: 2026-11-07, why: "the ring slapped", tell: Quieter.}
added:
  - {release: 53d3cc7b, date: 2026-11-08, tell: Lighter.}
withdrawn:
  - {label: 2025, date: 2026-11-09, why: the wrong draft}
`))
	if err != nil {
		t.Fatal(err)
	}
	if w := n.Reworded[0]; w.Release.Text != "2026" || w.Why.Text != "the ring slapped" || w.Tell.Text != "Quieter." || w.Pos.Line != 2 {
		t.Errorf("reworded: %+v", w)
	}
	if w := n.Added[0]; w.Why.Text != "" || w.Tell.Text != "Lighter." || w.Date.Text != "2026-11-08" {
		t.Errorf("added: %+v", w)
	}
	if w := n.Withdrawn[0]; w.Label.Text != "2025" || w.Why.Text != "the wrong draft" {
		t.Errorf("withdrawn: %+v", w)
	}
	if n, err := models.ParseNotes("n.yaml", nil); err != nil || n.Reworded != nil {
		t.Errorf("an empty file: %+v, %v", n, err)
	}
}

// TestNotesFaults: every fault at once, each in its place.
func TestNotesFaults(t *testing.T) {
	_, err := models.ParseNotes("n.yaml", []byte(`reworded:
  - {release: 2026, date: 2026-11-07}
withdrawn:
  - {label: 2025, date: 2026-11-09, why: one}
  - {label: 2025, date: 2026-11-31, why: two}
`))
	if err == nil {
		t.Fatal("no fault")
	}
	for _, want := range []string{
		"n.yaml:2:5: says nothing; expected why, tell or both",
		"n.yaml:5:13: withdrawn: \"2025\" is withdrawn twice; the first is in line 4",
		"n.yaml:5:25: withdrawn[#2].date: ",
	} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is missing from:\n%v", want, err)
		}
	}
}
