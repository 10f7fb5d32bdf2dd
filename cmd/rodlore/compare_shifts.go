package main

import (
	"math"
	"strings"

	"rodlore/catalogue"
	"rodlore/diffing"
	"rodlore/evaluate/figures"
	"rodlore/models/units"
)

// showShifts prints the figures that really changed, and all of them if wanted.
func (p *program) showShifts(s *catalogue.Step, d figures.Display, notes *footnotes, all bool) {
	t := table{columns: []column{
		{head: "figure", wraps: true}, {head: heading(s.Against), right: true}, {head: heading(s.Revision), right: true},
		{head: "change", right: true}, {head: "", right: true},
	}}
	var left leftOut
	apart := false
	for _, f := range s.Shifts {
		if !all && left.out(f, d) {
			continue
		}
		row := shiftRow(f, d)
		row[0] += notes.marks(f.Key)
		t.add(row...)
		apart = apart || f.Both() && d.Single(f.Key).RoundedApart(f.Key, f.Unit, f.Old.Value, f.New.Value, f.Tolerance())
	}
	if len(t.rows) > 0 {
		p.print("", t)
	}
	if apart {
		p.indented("", wrap(roundedApart, p.width()))
	}
	if left != (leftOut{}) {
		p.indented("", wrap(left.String()+"; --all shows them", p.width()))
	}
}

// roundedApart says why 2.94 and 3.02 may differ by 0.07.
const roundedApart = "changes are worked out before rounding, so a last digit may not fit the figures beside it"

// leftOut counts the figures that are not shown: those that did not change,
// that changed no more than rods built to one spec differ, and that changed by
// less than the digits show.
type leftOut struct{ same, scatter, hidden int }

// out reports whether a figure is not shown, and counts it then.
func (l *leftOut) out(f diffing.Shift, d figures.Display) bool {
	switch {
	case !f.Changed():
		l.same++
	case f.Real() == diffing.NotReal:
		l.scatter++
	case f.Both() && !d.Single(f.Key).Shows(f.Key, f.Unit, f.Change, f.New.Value):
		l.hidden++
	default:
		return false
	}
	return true
}

func (l leftOut) String() string {
	var parts []string
	if l.same > 0 {
		parts = append(parts, count(l.same, "figure")+" unchanged")
	}
	if l.scatter > 0 {
		parts = append(parts, count(l.scatter, "figure")+" without real change")
	}
	if l.hidden > 0 {
		parts = append(parts, count(l.hidden, "figure")+" changed by less than a digit shown")
	}
	return strings.Join(parts, ", ")
}

// shiftRow is one figure on both sides, to the digits that the tolerance of the
// change supports, its change and that in percent, or that it is no real change.
func shiftRow(f diffing.Shift, d figures.Display) []string {
	d = d.Single(f.Key)
	row := []string{figures.Short(f.Key), "none", "none", "", ""}
	if f.Old != nil {
		row[1] = d.Supported(f.Key, f.Unit, f.Old.Value, f.Tolerance())
	}
	if f.New != nil {
		row[2] = d.Supported(f.Key, f.Unit, f.New.Value, f.Tolerance())
	}
	if !f.Both() {
		return row
	}
	row[3] = "same"
	if f.Changed() {
		row[3] = d.ChangeWithTolerance(f.Key, f.Unit, f.Change, f.New.Value, f.Tolerance())
		row[4] = weight(f)
	}
	return row
}

// weight says how much a change is, as a share of the old value but of counts
// and shares, of which a percentage misleads; or that it is none.
func weight(f diffing.Shift) string {
	switch {
	case f.Real() == diffing.NotReal:
		return "not real"
	case f.Unit == "1":
		return ""
	}
	return percent(f.Percent())
}

// percent writes a share of the old value with its sign.
func percent(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return units.Counts.Signed(v, 1) + " %"
}
