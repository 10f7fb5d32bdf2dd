package oldnotes

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"rodlore/models"
)

// Entry is one rod of a model as it once was.
type Entry struct {
	Pos   models.Pos  // where it is noted
	Day   time.Time   // noon, by the clock of the reader
	Exact bool        // the very day is noted, and not only the month or the year
	Label models.Word // that it was sold under; empty where it was not on sale
	Why   string      // never empty
	Tell  string

	// Rings are those of the rod, from the tip. A ring without a part has the part
	// that the model's spec has in its place. Nil where Spec is given.
	Rings []models.Ring
	// Spec is the text of a copy of the whole spec, and SpecFile where it was found.
	Spec     []byte
	SpecFile string
}

// Options say how a table is to be read.
type Options struct {
	// Columns give the name that this package knows a column by, by the name it
	// has in the file: "Jahr": "date". A star stands for a number in both.
	Columns map[string]string
	Ignore  []string                          // columns that are passed over
	Unit    string                            // of places without one: "mm", "in"
	Now     time.Time                         // nothing can have happened later
	Open    func(name string) ([]byte, error) // reads a copy of a spec that a table names
}

// noon is the middle of a day, so that no zone makes another day of it.
func noon(year int, month time.Month, day int, where *time.Location) time.Time {
	return time.Date(year, month, day, 12, 0, 0, 0, where)
}

// inOrder sorts entries by day and tells those that cannot both be.
func inOrder(entries []Entry) ([]Entry, models.Faults) {
	var faults models.Faults
	labels := map[string]models.Pos{}
	for _, e := range entries {
		if e.Label.Text == "" {
			continue
		}
		if first, ok := labels[e.Label.Text]; ok {
			faults = append(faults, &models.Fault{Pos: e.Label.Pos, Path: "release",
				Msg: fmt.Sprintf("%s is there already, in line %d; a label is given once: call this one %s-b, say", e.Label.Text, first.Line, e.Label.Text)})
			continue
		}
		labels[e.Label.Text] = e.Label.Pos
	}
	slices.SortStableFunc(entries, func(a, b Entry) int { return cmp.Compare(a.Day.Unix(), b.Day.Unix()) })
	for i := 1; i < len(entries); i++ {
		a, b := entries[i-1], entries[i]
		if a.Day.Equal(b.Day) {
			faults = append(faults, &models.Fault{Pos: b.Pos, Path: "date",
				Msg: fmt.Sprintf("%s is the day of %s too; give each its day or month, so that it is known which came first",
					b.Day.Format(time.DateOnly), a.place(b))})
		}
	}
	return entries, faults
}

// place is where an entry stands, seen from another.
func (e Entry) place(from Entry) string {
	if e.Pos.File == from.Pos.File && e.Pos.Line > 0 {
		return fmt.Sprintf("line %d", e.Pos.Line)
	}
	return e.Pos.File
}
