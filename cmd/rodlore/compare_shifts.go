package main

import (
	"math"
	"slices"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models/units"
)

// showShifts prints the figures that changed, and all of them if wanted; how often
// a change by design shows; and of which the numbers cannot tell.
func (p *printer) showShifts(in say.Teller, s *catalogue.Step, notes *footnotes, all bool) {
	d := in.Display
	t := newTable(filling("figure"), numbers(heading(s.Against)), numbers(heading(s.Revision)), numbers("change"), numbers(""))
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
		p.wrapped("", roundedApart)
	}
	if left != (leftOut{}) {
		p.wrapped("", left.String()+"; --all shows them")
	}
	if f, ok := diffing.Find(s.Shifts, "load-limit"); ok && (all || !(&leftOut{}).out(f, d)) {
		p.showWeakest(in, f.Old, f.New)
	}
	p.showDesigned(in, s.Shifts)
	p.showAside(s.Shifts, d, all)
	p.showOpen(in, s.Shifts, all)
}

// showWeakest says what fails first at the load limits of several rods, and where;
// those may be nil.
func (p *printer) showWeakest(t say.Teller, limits ...*evaluate.Figure) {
	var rods []string
	for _, f := range limits {
		if f != nil && f.Weakest.By != "" {
			rods = append(rods, t.Weakest(f.Weakest))
		}
	}
	if len(rods) > 0 {
		p.wrapped("", figures.Short("load-limit")+": "+strings.Join(slices.Compact(rods), " → "))
	}
}

// showDesigned says how often changes show that not nearly all pairs of rods show.
func (p *printer) showDesigned(t say.Teller, shifts []diffing.Shift) {
	for _, f := range shifts {
		if f.ByDesign() {
			p.wrapped("", figures.Short(f.Key)+" changed by design, which shows "+t.Often(f))
		}
	}
}

// showAside tells of the changes that rods as they are built do not show as large, on
// average, as such that come out exactly by their specs.
func (p *printer) showAside(shifts []diffing.Shift, d figures.Display, all bool) {
	for _, f := range shifts {
		if single := d.Single(f.Key); f.Aside() && (all || f.Answer() == diffing.Changed) && single.Shows(f.Key, f.Unit, f.Mean()-f.Change, f.New.Value) {
			p.wrapped("", figures.Short(f.Key)+" changes by "+single.ChangeWithTolerance(f.Key, f.Unit, f.Mean(), f.New.Value, f.Tolerance())+
				" on average over rods as they are built; the table has rods exactly to spec")
		}
	}
}

// showOpen says of the figures that stand for a rod, or of all, what would decide
// whether they changed where the numbers cannot tell.
func (p *printer) showOpen(t say.Teller, shifts []diffing.Shift, all bool) {
	shown := slices.DeleteFunc(slices.Clone(shifts), func(f diffing.Shift) bool {
		return !all && figures.Of(f.Key).In&(figures.Main|figures.Compared) == 0
	})
	open := textTable(telling.Teller{Teller: t}.Open(shown))
	if len(open.rows) > 0 {
		p.println()
		p.print("", open)
	}
}

// roundedApart says why 2.94 and 3.02 may differ by 0.07.
const roundedApart = "changes are worked out before rounding, so a last digit may not fit the figures beside it"

// leftOut counts the figures that are not shown: those that are the same, of which
// the numbers cannot tell, and that changed by less than the digits show.
type leftOut struct{ same, open, hidden int }

// out reports whether a figure is not shown, and counts it then.
func (l *leftOut) out(f diffing.Shift, d figures.Display) bool {
	switch {
	case f.Answer() == diffing.Same:
		l.same++
	case f.Answer() == diffing.Open:
		l.open++
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
		parts = append(parts, count(l.same, "figure")+" the same")
	}
	if l.open > 0 {
		parts = append(parts, count(l.open, "figure")+" of which the numbers cannot tell")
	}
	if l.hidden > 0 {
		parts = append(parts, count(l.hidden, "figure")+" changed by less than a digit shown")
	}
	return strings.Join(parts, ", ")
}

// shiftRow is one figure on both sides, to the digits that the tolerance of the
// change supports, its change and that in percent, or what else became of it.
func shiftRow(f diffing.Shift, d figures.Display) []string {
	d = d.Single(f.Key)
	if f.Both() {
		d = d.Alike(f.Old.Value, f.New.Value)
	}
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
	row[3], row[4] = "none", answerOf(f)
	if f.Changed() {
		row[3] = d.ChangeWithTolerance(f.Key, f.Unit, f.Change, f.New.Value, f.Tolerance())
		if f.Answer() == diffing.Changed {
			row[4] = percent(f)
		}
	}
	return row
}

// answerOf says what became of a figure that is not known to have changed.
func answerOf(f diffing.Shift) string {
	if f.Answer() == diffing.Same {
		return "the same"
	}
	return "cannot tell"
}

// percent is how much a change is, as a share of the old value but of counts and
// shares, of which a percentage misleads.
func percent(f diffing.Shift) string {
	if v := f.Percent(); f.Unit != "1" && !math.IsNaN(v) {
		return units.Counts.Signed(v, 1) + " %"
	}
	return ""
}
