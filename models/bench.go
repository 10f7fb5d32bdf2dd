package models

import (
	"fmt"
	"slices"
	"time"

	"rodlore/models/spelling"
	"rodlore/models/units"
)

// Bench is the content of a file of bench/: what was measured of one rod.
type Bench struct {
	File     string
	Model    Word // the model it was built as, "skerry-10"
	Rod      Word // its serial number or name
	Date     Date
	Of       Word // the revision it was built to; unset means what the spec says now
	Measured []Measured
}

// Date is a day as the maker gave it.
type Date struct {
	Day  time.Time
	Text string
	Pos  Pos
}

// Measure is what a measurement is one of.
type Measure string

const (
	WeightMeasure    Measure = "weight"       // kg, of the rod or of a section
	BalanceMeasure   Measure = "balance"      // m, from the butt end of the rod or of a section
	PendulumMeasure  Measure = "pendulum"     // s, that a number of swings to and fro took
	DropMeasure      Measure = "drop"         // m, below the line of the butt, under a load
	ThirdLoadMeasure Measure = "third load"   // N
	TestCurveMeasure Measure = "test curve"   // N, by the maker's own eye
	CountMeasure     Measure = "oscillations" // counted in a time
	SettleMeasure    Measure = "settle"       // s, in which a swing dies down to a tenth
	TraceMeasure     Measure = "trace"        // m, points of the bent rod off a photograph
)

// Measured is one measurement and how it was made. A section that comes off the
// rod has its own rings on it, the lowest the handle as well, and keeps the plug
// or sleeve of the joint at its upper end.
type Measured struct {
	Pos     Pos
	What    Measure
	Section Word // of a weight, balance or pendulum; unset means the whole rod

	// What was read, SI, and its standard deviation. Of a trace Value is 0: no
	// point lies off the rod.
	Value, Deviation float64
	Unit             string
	Text             string // as written, "165.8 g ± 0.5 g"

	At     Given[units.Length]   // of a drop, from the tip; unset means the tip
	Load   Given[units.Force]    // of a drop or a trace, hung from the tip ring
	Pivot  Given[units.Length]   // of a pendulum, from the butt end
	Swings int                   // of a pendulum, to and fro
	During Given[units.Duration] // of oscillations
	Points []TracedPoint         // of a trace
}

// Same reports whether two measurements are one: the same reading of the same
// thing under the same conditions, wherever each is written.
func (m Measured) Same(o Measured) bool {
	return m.What == o.What && m.Section.Text == o.Section.Text && m.Value == o.Value && m.Deviation == o.Deviation &&
		m.At.Value == o.At.Value && m.Load.Value == o.Load.Value && m.Pivot.Value == o.Pivot.Value &&
		m.Swings == o.Swings && m.During.Value == o.During.Value &&
		slices.EqualFunc(m.Points, o.Points, func(a, b TracedPoint) bool { return a.X.Value == b.X.Value && a.Y.Value == b.Y.Value })
}

// TracedPoint is a point of the middle of the blank: X along the butt from the
// front of the hold towards the tip, Y down.
type TracedPoint struct {
	X, Y Given[units.Length]
}

// ParseBench reads a file of bench/; see ParseModel.
func ParseBench(file string, src []byte) (*Bench, error) {
	return parse(&Bench{File: file}, file, src, &benchTable)
}

// NameRevision gives the text of a file of bench/ with the revision that its rod was
// built to, on the line behind the date. Every other byte stays.
func (b *Bench) NameRevision(src []byte, of string) ([]byte, error) {
	t, err := openText(b.File, src)
	if err != nil {
		return nil, err
	}
	line := "of: " + plainOrQuoted(of)
	return t.with([]edit{t.add(t.root, indexOf(t.root, "date")/2+1, line)}, line, "write it in by hand", reads(ParseBench, b.File))
}

// checkMeasured checks that a measurement is one and has what it takes.
func checkMeasured(v value, m *Measured) {
	given := v.entries()
	var found []ReadingKind
	for _, k := range ReadingKinds {
		if _, ok := given[string(k.What)]; ok {
			found = append(found, k)
		}
	}
	if len(found) != 1 {
		says := "has no reading"
		if len(found) > 1 {
			says = fmt.Sprintf("has %s at once", spelling.List(namesOf(found), "and"))
		}
		v.fault("%s; expected one of %s, each measurement on a line of its own", says, spelling.List(namesOf(ReadingKinds), "or"))
		return
	}
	kind := found[0]
	for _, key := range kind.Wants {
		if _, ok := given[key]; !ok {
			v.at(v.pos(), key, "is missing; expected it with %s, as in %s", kind.What, kind.Example)
		}
	}
	for key, e := range given {
		if isCondition(key) && !slices.Contains(kind.Wants, key) && !slices.Contains(kind.May, key) {
			v.at(v.doc.pos(e.key), key, "does not go with %s", kind.What)
		}
	}
}

func namesOf(kinds []ReadingKind) []string {
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = string(k.What)
	}
	return names
}

// isCondition reports whether a key says how some measurement was made.
func isCondition(key string) bool {
	return slices.ContainsFunc(ReadingKinds, func(k ReadingKind) bool {
		return slices.Contains(k.Wants, key) || slices.Contains(k.May, key)
	})
}
