package main

import (
	"rodlore/catalogue/say"
	"rodlore/evaluate"
)

// fitOf is what fit prints, SI.
func fitOf(rod *fittedRod) object {
	fit, t, written := rod.fit, say.Teller{Words: say.English()}, ""
	if rod.written {
		written = rod.draft.File
	}
	return object{
		{"model", rod.Model},
		{"revision", revisionOf(rod.Revision)}, // that the rod was built to
		{"sheet", rod.sheet.File}, {"rod", rod.sheet.Rod.Text}, {"date", rod.sheet.Date.Text},
		{"readings", say.Each(fit.Readings, func(r evaluate.FittedReading) object {
			return object{
				{"name", t.Note(r.Name())}, {"figure", orNull(r.Figure)},
				{"value", r.Value}, // of a traced point how far it lies off the rod
				{"deviation", r.Deviation}, {"unit", r.Unit}, {"before", r.Before}, {"after", r.After}, {"off", r.Off}, {"disagrees", r.Disagrees},
			}
		})},
		// How much more each is than spec or range say, and its standard deviations.
		{"unknowns", say.Each(fit.Parameters, func(u evaluate.Parameter) object {
			return object{
				{"free", u.Free}, {"section", orNull(u.Section)}, {"value", u.Value}, {"unit", u.Unit},
				{"before", u.Before}, {"after", u.After}, {"told", u.Told()},
			}
		})},
		{"correlations", fit.Correlations}, // of two unknowns, by their places in the list from 0
		{"squares", fit.Squares}, {"chance", fit.Chance}, {"threshold", fit.Threshold}, {"for", fit.For},
		{"known", fit.Know}, // standard deviation of that figure of the rod
		{"next", say.Each(fit.Next, func(n evaluate.Next) object { return object{{"name", t.Note(n.Name())}, {"known", n.Know}} })},
		{"written", orNull(written)}, // the file; null where none was
		{"caution", say.English().Say("cautions.weights.text")},
	}
}
