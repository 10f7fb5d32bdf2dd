package catalogue

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/evaluate"
)

func sampleNote() *releaseNote {
	return &releaseNote{
		label: "2021", revision: "1a2b", scheme: 2, method: "rod/1", intact: true,
		files:      []notedFile{{"models/brook.yaml", "aa11"}, {"parts.yaml", "bb22"}},
		after:      []notedRelease{{"2020", "0f0f", "c0ffee", ""}},
		conditions: []evaluate.Condition{{Name: "damping", Text: "1.5 %"}, {Name: "test curve", Text: "pull 90 deg, turn 85 deg, line through rings"}},
		figures: []evaluate.Figure{
			{Key: "weight", Value: 0.165421, Unit: "kg", Tolerance: 0.0033},
			{Key: "rings", Value: 8, Unit: "1"},
			{Key: "swing", Value: 1.5e-7, Unit: "kg·m²", Tolerance: 2e-9},
		},
		verdict: NotFit,
		reasons: []notedReason{{true, "ring count −2 beside 2020: your limit for one release is 1 ring"}, {false, "rings: 7 of them"}},
		despite: "the show is on Friday",
	}
}

func TestNoteIsReadBack(t *testing.T) {
	for name, note := range map[string]*releaseNote{
		"all there is":   sampleNote(),
		"as little":      {revision: "1a2b", scheme: 1, method: "rod/1", verdict: Fit, intact: true},
		"a plain before": {revision: "1a2b", scheme: 1, method: "rod/1", verdict: Fit, intact: true, after: []notedRelease{{"2020", "0f0f", "", ""}}},
		"signed, after several": {revision: "1a2b", scheme: 2, method: "rod/1", verdict: Fit, intact: true, state: "a001", signed: true,
			after: []notedRelease{{"2019", "0f0f", "", "77"}, {"2020", "", "", "78"}, {"2020-b", "0e0e", "5a5a", "79"}}},
	} {
		t.Run(name, func(t *testing.T) {
			text := note.write("Brook 2021")
			got, ok := readReleaseNote(text)
			if !ok {
				t.Fatal("it is no note")
			}
			want := *note
			want.sum = noteChecksum(text[:strings.Index(text, noteSum)])
			if diff := cmp.Diff(&want, got, cmp.AllowUnexported(releaseNote{}, notedFile{}, notedReason{}, notedRelease{})); diff != "" {
				t.Errorf("(-written +read):\n%s\nof\n%s", diff, text)
			}
		})
	}
}

func TestOtherTextsAreNoNotes(t *testing.T) {
	for _, other := range []string{"", "v1", "Brook 2021\n\nweight: 0.16 kg\n", "Method: rod/1\n"} {
		if _, ok := readReleaseNote(other); ok {
			t.Errorf("%q is read as a note", other)
		}
	}
}

// An older note has neither label nor checksum and is as good as it was.
func TestOlderNote(t *testing.T) {
	n, ok := readReleaseNote("Brook 2021\n\nRevision: 1a2b\nMethod: rod/1\nWith damping: 1.5 %\n\nweight: 0.165421 kg ± 0.0033\nrings: 8 1\n")
	if !ok || !n.intact || n.sum != "" || n.label != "" || len(n.figures) != 2 || n.figures[1].Key != "rings" || n.figures[1].Value != 8 || len(n.conditions) != 1 {
		t.Errorf("it is read as %+v", n)
	}
}

// Whatever of a note is edited, its checksum shows it; blanks at the ends of
// lines, which git takes off, are no edit.
func TestChecksumShowsEdits(t *testing.T) {
	text := sampleNote().write("Brook 2021")
	for _, tc := range []struct {
		name, old, new string
		intact         bool
	}{
		{"nothing", "weight", "weight", true},
		{"blanks", "\nMethod", "  \nMethod", true},
		{"the ends of lines", "\n", "\r\n", true},
		{"a figure", "weight: 0.165421", "weight: 0.155421", false},
		{"a tolerance", "± 0.0033", "± 0.0023", false},
		{"the verdict", "Verdict: not fit", "Verdict: fit", false},
		{"a reason taken out", "Reservation: rings: 7 of them\n", "", false},
		{"the title", "Brook 2021", "Brook 2022", false},
		{"a line more", "\nMethod", "\nMaker: me\nMethod", false},
		{"a line behind", "\nChecksum", "\nNote: x\nChecksum", false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			n, ok := readReleaseNote(strings.ReplaceAll(text, tc.old, tc.new))
			if !ok || n.intact != tc.intact {
				t.Errorf("intact %t, want %t", n.intact, tc.intact)
			}
		})
	}
	if n, _ := readReleaseNote(text + "weight: 1 kg\n"); n.intact {
		t.Error("a figure behind the checksum goes unnoticed")
	}
}
