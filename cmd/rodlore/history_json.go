package main

import (
	"errors"
	"slices"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate"
)

// historyOf is what history prints, newest first.
func historyOf(t say.Teller, model string, r *catalogue.Range, steps []*catalogue.Step, out []*catalogue.TakenOut, beside []*catalogue.Beside) object {
	var notes []catalogue.Note
	for _, s := range steps {
		notes = append(notes, s.Notes...)
	}
	return object{
		{"model", model},
		{"revisions", stepsOf(t, steps)},
		{"taken-out", say.Each(out, outOf)}, // of the range
		{"same-rod", besidesOf(beside)},
		{"notes", slices.Concat(told(t, notes), say.Each(r.Notes(), error.Error))},
	}
}

// besidesOf are edits that made no other rod.
func besidesOf(list []*catalogue.Beside) []object {
	return say.Each(list, func(b *catalogue.Beside) object {
		var by catalogue.State // that brought it; nulls where it is not saved
		if b.By != nil {
			by = *b.By
		}
		return object{
			{"id", b.ID}, {"state", orNull(by.ID)}, {"date", by.When}, {"author", orNull(by.Author)},
			{"why", orNull(b.Why)}, {"tell", orNull(b.Tell)}, {"changes", changesOf(b.Changes)},
		}
	})
}

// outOf is when a model was taken out of the range; null for never.
func outOf(o *catalogue.TakenOut) object {
	if o == nil {
		return nil
	}
	return object{
		{"date", o.When}, {"author", orNull(o.Author)}, {"why", orNull(o.Why())},
		{"id", o.Last.ID},      // of what it took out
		{"now", orNull(o.Now)}, // the name that the model went on under; null where it ended
	}
}

func stepsOf(t say.Teller, steps []*catalogue.Step) []object {
	return say.Each(steps, func(s *catalogue.Step) object { return stepOf(t, s) })
}

// stepOf is one revision and what it changed; null for none.
func stepOf(t say.Teller, s *catalogue.Step) object {
	if s == nil {
		return nil
	}
	var aside, beside any
	if s.Aside != nil {
		aside = s.Aside.When
	}
	if s.Seen != nil {
		beside = orNull(s.Seen.Label())
	}
	var figs []evaluate.Figure
	if s.Figures != nil {
		figs = s.Figures.List
	}
	return object{
		{"id", s.ID}, {"date", s.When}, {"author", orNull(s.Author)}, {"why", orNull(s.Why)}, {"tell", orNull(s.Tell)},
		{"label", orNull(s.Label())}, // of the latest release
		{"labels", s.Labels},         // of all its releases, oldest first
		{"state", s.Status},
		{"aside", aside}, // when a merge took the other side; null where none did
		{"fault", errors.Join(s.Fault(), s.Unworkable)},
		{"changes", changesOf(s.Changes)},
		{"beside", beside}, // the release that sights are against; null before the first
		{"sights", sightsOf(t, s.Sights())},
		{"figures", say.Each(figs, func(f evaluate.Figure) object { return figureChange(s.Shifts, f) })},
		{"heard", remarksOf(s.Heard)}, // what customers said of it, oldest first
		{"drifts", driftsOf(t, s.Drifts)},
		{"later", say.Each(s.Later, func(w catalogue.LaterWords) object { // said besides, oldest first
			return object{{"date", w.Day}, {"why", orNull(w.Why)}, {"tell", orNull(w.Tell)}}
		})},
		{"reworded", orNull(s.Reworded)}, // day on which why or tell was put right
		{"withdrawn", withdrawnLabels(s.Revision)},
	}
}

// driftsOf is what of releases is worked out otherwise than they were released with, SI.
func driftsOf(t say.Teller, drifts []catalogue.Drift) []object {
	return say.Each(drifts, func(d catalogue.Drift) object {
		return object{{"label", d.Label}, {"why", told(t, d.Why)}, {"figures", d.Figures}}
	})
}

// figureChange is a figure and its change from the revision before; null where that one
// had none, or, of a tolerance, which is one standard deviation, where it is not known.
func figureChange(shifts []diffing.Shift, f evaluate.Figure) object {
	s, _ := diffing.Find(shifts, f.Key)
	return append(object{
		{"key", f.Key}, {"value", f.Value}, {"unit", f.Unit}, {"error", f.Error}, {"tolerance", f.Tolerance},
		{"change", s.Change}, {"change-tolerance", s.Tolerance()},
		{"real", s.Real()}, // "yes", "no" or "unknown"
	}, answersOf(s)...)
}
