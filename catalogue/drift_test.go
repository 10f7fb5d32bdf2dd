package catalogue

import (
	"context"
	"strings"
	"testing"
	"time"

	"rodlore/evaluate"
)

// released is a range whose brook was put on sale as 2021.
func released(t *testing.T) *memory {
	t.Helper()
	m := twoModels()
	r := m.open(t)
	rev, err := r.Draft("brook")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.Release(context.Background(), rev, ReleaseRequest{Label: "2021", When: time.Date(2021, 4, 2, 0, 0, 0, 0, time.UTC)}); err != nil {
		t.Fatal(err)
	}
	return m
}

// driftsOf are the drifts of brook's release as history tells them.
func driftsOf(t *testing.T, m *memory) []Drift {
	t.Helper()
	r := m.open(t)
	rev, err := r.Find("brook", "2021")
	if err != nil {
		t.Fatal(err)
	}
	s, err := r.Compare(t.Context(), nil, rev)
	if err != nil {
		t.Fatal(err)
	}
	return s.Drifts
}

func TestReleaseAsItWasHasNoDrift(t *testing.T) {
	if d := driftsOf(t, released(t)); len(d) != 0 {
		t.Errorf("drifts %+v", d)
	}
}

// TestDrift holds that what did not come from an edit of the rod is told, with
// its cause.
func TestDrift(t *testing.T) {
	for _, tc := range []struct {
		name    string
		change  func(m *memory)
		figures []string // that must be among those told
		why     string   // the beginning of the one cause
	}{
		{"another method", func(m *memory) {
			m.editNote("Method: "+evaluate.Method, "Method: rod/0")
			m.editNote("rings: 2", "rings: 3")
		}, []string{"rings"}, "drift.method new=" + evaluate.Method + " old=rod/0"},
		{"another setting", func(m *memory) { m.working["range.yaml"] = "damping: 3 %\n" },
			[]string{"settle"}, "drift.settings name=damping new=3 % old=1.5 %"},
		{"another built-in material", func(m *memory) {
			note := m.log.Tags[0].Message
			i := strings.Index(note, "Revision: ") + len("Revision: ")
			m.log.Tags[0].Message = strings.Replace(note[:i]+"00"+note[i+2:], "rings: 2", "rings: 3", 1)
		}, []string{"rings"}, "drift."},
		{"nobody knows", func(m *memory) { m.editNote("rings: 2", "rings: 3") },
			[]string{"rings"}, "drift.other"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			m := released(t)
			tc.change(m)
			d := driftsOf(t, m)
			if len(d) != 1 || d[0].Label != "2021" {
				t.Fatalf("drifts %+v, want one of 2021", d)
			}
			var keys []string
			for _, f := range d[0].Figures {
				keys = append(keys, f.Key)
			}
			for _, want := range tc.figures {
				if !strings.Contains(strings.Join(keys, " "), want) {
					t.Errorf("figures %v, want %s among them", keys, want)
				}
			}
			if len(d[0].Why) != 1 || !strings.HasPrefix(told(d[0].Why[0]), tc.why) {
				t.Errorf("why %q, want %q", d[0].Why, tc.why)
			}
		})
	}
}

// editNote edits the message of the one tag.
func (m *memory) editNote(old, now string) {
	m.log.Tags[0].Message = strings.Replace(m.log.Tags[0].Message, old, now, 1)
}

// TestTightenedToleranceIsNoDrift holds that a tolerance says nothing of the
// figure itself.
func TestTightenedToleranceIsNoDrift(t *testing.T) {
	m := released(t)
	m.working["range.yaml"] = "tolerances: {wall: 0.01 mm}\n"
	if d := driftsOf(t, m); len(d) != 0 {
		t.Errorf("drifts %+v", d)
	}
}

func TestPlainTagHasNoDrift(t *testing.T) {
	m := released(t)
	m.log.Tags[0].Message = ""
	if d := driftsOf(t, m); len(d) != 0 {
		t.Errorf("drifts %+v", d)
	}
}
