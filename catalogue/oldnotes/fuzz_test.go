package oldnotes_test

import (
	"errors"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"rodlore/catalogue/oldnotes"
	"rodlore/catalogue/visible"
	"rodlore/models"
)

// FuzzTable reads anything as a table of old notes: it gives entries in the order of
// their days with something to save of each, or faults that stand in the file.
func FuzzTable(f *testing.F) {
	for _, text := range []string{
		oldnotes.Example, "", "\n", "date,spec\n2019,a.yaml\n", "release;rings\n2019;90/195 mm/33 cm\n", "date\tring 1\n1.2.2019\t\"90\"\"\"\n",
		"\ufeffdate,ring 1\n2019,\"9\n0\"\n", "date,ring 01,R9\n2019,½,3 3/4 in\n", "release,why,ring 1\n2019,\x1b[2J,90\n", "date,ring 1\n2019,1e309\n",
	} {
		f.Add([]byte(text))
	}
	o := oldnotes.Options{
		Unit: "mm", Now: time.Date(2026, 11, 30, 12, 0, 0, 0, time.UTC), Columns: map[string]string{"R*": "ring *"},
		Open: func(name string) ([]byte, error) { return []byte(name), nil },
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		entries, err := oldnotes.Table("f.csv", src, o)
		for i, e := range entries {
			if i > 0 && e.Day.Before(entries[i-1].Day) || e.Day.After(o.Now) || e.Why == "" || (e.Spec == nil) == (len(e.Rings) == 0) {
				t.Errorf("entry %+v", e)
			}
			if said := e.Why + e.Tell; visible.Steers(said) || !utf8.ValidString(said) {
				t.Errorf("what is to be kept cannot be shown: %q", said)
			}
		}
		if err == nil {
			return
		}
		var faults models.Faults
		if !errors.As(err, &faults) || len(faults) == 0 {
			t.Fatalf("no faults but %v", err)
		}
		lines := 1 + strings.Count(string(src), "\n")
		for _, fault := range faults {
			if fault.Pos.File != "f.csv" || fault.Pos.Line > lines || !utf8.ValidString(fault.Error()) {
				t.Errorf("fault %v in %d lines", fault, lines)
			}
		}
	})
}
