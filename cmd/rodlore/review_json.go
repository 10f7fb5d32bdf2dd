package main

import (
	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/models"
)

// reviewOf is what review prints.
func reviewOf(t say.Teller, v *catalogue.Review, written []string) object {
	var since *catalogue.Revision // the last release before it; null where there is none
	if v.Since != nil {
		since = v.Since.Against
	}
	return object{
		{"model", v.Model}, {"revision", revisionOf(v.Revision)}, {"verdict", v.Verdict()},
		{"reasons", reasonsOf(reasonWords(t, v.Model), v)},
		{"wants", metOf(v)}, {"since", revisionOf(since)}, {"sights", sightsOf(t, v.Sights())}, {"figures", changedOf(t, v)},
		{"words", toldWords(t, v.Tell, v.Since)},
		{"strength", strengthOf(v)}, // null where nothing is known of it
		{"unpriced", v.Unpriced},
		{"tops", say.Each(v.Tops, func(of *catalogue.Review) object { // the rod with each of its other tops
			return object{
				{"top", of.Top}, {"wants", metOf(of)}, {"sights", sightsOf(t, of.Sights())}, {"figures", changedOf(t, of)}, {"strength", strengthOf(of)},
			}
		})},
		{"by-hand", say.Each(v.ByHand, byHand)},
		{"notes", figureNotes(t, v.Figures, v.Measured)},
		{"written", written},
	}
}

// reasonsOf is what speaks against a rod.
func reasonsOf(word func(catalogue.Reason) string, v *catalogue.Review) []object {
	return say.Each(v.Reasons, func(r catalogue.Reason) object {
		return object{
			{"rule", r.Rule},
			{"top", orNull(r.Top)}, // of the rod with that top; null with its main one
			{"grave", r.Grave},     // it makes the rod not fit; others are reservations
			{"text", word(r)},
		}
	})
}

// metOf are wants with the share of rods built to the spec that meet each, 0 to 1; null
// where it is not known.
func metOf(v *catalogue.Review) []object {
	return say.Each(v.Wants, func(w evaluate.Wanted) object { return append(wantedOf(w), pair{"share", w.Share}) })
}

// byHand is a check by hand; by and date are null where it is not ticked for this
// revision.
func byHand(c catalogue.HandCheck) object {
	tick := models.Tick{}
	if c.Tick != nil {
		tick = *c.Tick
	}
	return object{{"check", c.Check.Text}, {"look", c.Look.Text}, {"by", orNull(tick.By.Text)}, {"date", orNull(tick.Date.Text)}}
}

// changedOf are figures, how each changed since the last release and what was measured
// of it; change is null where there is none before.
func changedOf(t say.Teller, v *catalogue.Review) []object {
	var shifts []diffing.Shift
	if v.Since != nil {
		shifts = v.Since.Shifts
	}
	return say.Each(v.Figures.List, func(f evaluate.Figure) object {
		var verdict any
		s, ok := diffing.Find(shifts, f.Key)
		if ok {
			verdict = s.Real()
		}
		return append(append(measuredFigure(t, v.Figures, v.Measured, f), pair{"change", s.Change}, pair{"real", verdict}), answersOf(s)...)
	})
}

// strengthOf are estimates of strength, SI; none is a safe load.
func strengthOf(v *catalogue.Review) object {
	if v.Limits == nil {
		return nil
	}
	low := v.Limits.Lifts[0]
	return object{
		{"factor", v.Limits.Factor}, {"low-angle", low.Angle},
		{"low-pull", low.Pull}, // that reaches the limit at low-angle
		{"low-at", low.At},     // from the tip, where the blank would fail then
		{"low-by", low.By}, {"line", orNull(v.Limits.Line)}, {"line-angle", v.Limits.LineAngle}, {"caution", say.English().Say("cautions.limits.text")},
	}
}
