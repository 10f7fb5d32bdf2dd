package main

import (
	"fmt"
	"slices"
	"strconv"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
)

// comparisonOf is what compare prints; shares only where they were asked for.
func comparisonOf(t say.Teller, s *catalogue.Step, shares *diffing.Shares, a *evaluate.Actions) object {
	side := func(r *catalogue.Revision) object { return object{{"model", r.Model}, {"revision", revisionOf(r)}} }
	notes := comparisonNotes(t, s)
	doc := object{
		{"old", side(s.Against)}, {"new", side(s.Revision)}, {"changes", changesOf(s.Changes)},
		{"sights", sightsOf(t, s.Sights())}, // none where two models are compared
		{"figures", shiftsOf(s.Shifts)},
	}
	if shares == nil {
		return append(doc, pair{"notes", notes}, pair{"action", actionOf(a)})
	}
	return append(doc, pair{"notes", append(notes, notesOf(t.Shares(shares))...)}, pair{"shares", sharesOf(shares)}, pair{"action", actionOf(a)})
}

// actionOf says whether two rods have one action at two powers; null where they do not
// belong together.
func actionOf(a *evaluate.Actions) object {
	if a == nil {
		return nil
	}
	return object{
		{"answer", map[diffing.Answer]string{diffing.Same: "one", diffing.Changed: "two", diffing.Open: "open"}[diffing.AnswerActions(*a)]},
		{"apart", a.Apart},            // the most that the bends are turned from each other in one place, rad
		{"low", a.Low},                // all but few pairs of rods are further apart
		{"high", a.High},              // and less far
		{"limit", diffing.SameAction}, // what one action is apart at most
		{"power", a.Power},            // of the new rod over that of the old
		{"tolerance", a.Tolerance},
	}
}

// actionWords says whether two rods have one action at two powers.
func actionWords(d figures.Display, a evaluate.Actions) string {
	words := map[diffing.Answer]string{
		diffing.Same: "one action at two powers", diffing.Changed: "two actions", diffing.Open: "the numbers cannot tell whether it is one action at two powers or two actions",
	}[diffing.AnswerActions(a)]
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }
	return fmt.Sprintf("%s: it takes %s ± %s times the load to bend it as far, and then the two are turned from each other by at most %s (%s to %s in pairs of rods; up to %s is one action)",
		words, number(a.Power), number(a.Tolerance), d.Value("", "rad", a.Apart),
		d.Value("", "rad", a.Low), d.Value("", "rad", a.High), d.Value("", "rad", diffing.SameAction))
}

// shiftsOf are figures on both sides, SI; null where a side has none.
func shiftsOf(shifts []diffing.Shift) []object {
	return say.Each(shifts, func(f diffing.Shift) object {
		var values [2]any
		var weakest object // of load limits: what fails first, and where
		for i, side := range []*evaluate.Figure{f.Old, f.New} {
			if side != nil {
				values[i] = side.Value
			}
			if side != nil && side.Weakest.By != "" {
				weakest = append(weakest, pair{[]string{"old-weakest", "new-weakest"}[i], weakestOf(side.Weakest)})
			}
		}
		doc := object{
			{"key", f.Key}, {"old", values[0]}, {"new", values[1]}, {"unit", f.Unit}, {"change", f.Change}, {"error", f.Error},
			{"tolerance", f.Tolerance()}, // one standard deviation of the change; null where it is not known
			{"real", f.Real()},           // "yes", "no" or "unknown"
		}
		return slices.Concat(doc, answersOf(f), weakest)
	})
}

// answersOf is what can be said of a figure beside another rod.
func answersOf(s diffing.Shift) object {
	if !s.Both() {
		return object{{"answer", nil}, {"noticed", nil}, {"mean", nil}, {"often", nil}, {"rods", nil}}
	}
	var rods any
	if n, ok := s.Rods(); ok {
		rods = n
	}
	return object{
		{"answer", s.Answer()}, // "changed", "same" or "open"; null where a side lacks the figure
		{"noticed", s.Noticed}, // the least change that an angler notices, SI
		{"mean", s.Mean()},     // of the change in pairs of rods, SI; null where it is not known
		{"often", s.Often()},   // the share of pairs of rods in which the change shows; null where it is not known
		{"rods", rods},         // how many of either to measure to settle it; null where it is settled or too many
	}
}
