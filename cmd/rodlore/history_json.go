package main

import (
	"errors"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/diffing"
)

// historyJSON is what history prints.
type historyJSON struct {
	schema
	Model     string     `json:"model"`
	Revisions []stepJSON `json:"revisions"` // newest first
	TakenOut  []outJSON  `json:"taken-out"` // of the range, newest first
	// SameRod is what was edited and made no other rod, newest first.
	SameRod []besideJSON `json:"same-rod"`
	Notes   []string     `json:"notes"`
}

// besideJSON is one such edit.
type besideJSON struct {
	ID      string       `json:"id"`
	State   *string      `json:"state"` // the saved state that brought it; null where it is not saved
	Date    *time.Time   `json:"date"`
	Author  *string      `json:"author"`
	Why     *string      `json:"why"`
	Tell    *string      `json:"tell"`
	Changes []changeJSON `json:"changes"`
}

func newBesideJSON(b *catalogue.Beside) besideJSON {
	doc := besideJSON{ID: b.ID, Date: dateOrNull(b.When), Why: orNull(b.Why), Tell: orNull(b.Tell), Changes: changesOf(b.Changes)}
	if b.By != nil {
		doc.State, doc.Author = orNull(b.By.ID), orNull(b.By.Author)
	}
	return doc
}

// outJSON is when a model was taken out of the range.
type outJSON struct {
	Date   *time.Time `json:"date"`
	Author *string    `json:"author"`
	Why    *string    `json:"why"`
	ID     string     `json:"id"`  // of what it took out
	Now    *string    `json:"now"` // the name that the model went on under; null where it ended
}

// stepJSON is one revision and what it changed.
type stepJSON struct {
	ID      string             `json:"id"`
	Date    *time.Time         `json:"date"`
	Author  *string            `json:"author"`
	Why     *string            `json:"why"`
	Tell    *string            `json:"tell"`
	Label   *string            `json:"label"`  // of the latest release
	Labels  []string           `json:"labels"` // of all its releases, oldest first
	State   string             `json:"state"`
	Aside   *time.Time         `json:"aside"` // when a merge took the other side; null where none did
	Fault   *string            `json:"fault"`
	Changes []changeJSON       `json:"changes"`
	Beside  *string            `json:"beside"` // the release that sights are against; null before the first
	Sights  []sightJSON        `json:"sights"`
	Figures []figureChangeJSON `json:"figures"`
	Heard   []remarkJSON       `json:"heard"` // what customers said of it, oldest first
	Drifts  []driftJSON        `json:"drifts"`

	Later     []laterJSON `json:"later"`     // said besides, oldest first
	Reworded  *string     `json:"reworded"`  // day on which why or tell was put right
	Withdrawn []string    `json:"withdrawn"` // labels that are off sale
}

// laterJSON is what was said of a revision after it was saved.
type laterJSON struct {
	Date string  `json:"date"`
	Why  *string `json:"why"`
	Tell *string `json:"tell"`
}

func laterOf(later []catalogue.LaterWords) []laterJSON {
	return each(later, func(w catalogue.LaterWords) laterJSON { return laterJSON{w.Day, orNull(w.Why), orNull(w.Tell)} })
}

// driftJSON is what of a release is worked out otherwise than it was released
// with, SI.
type driftJSON struct {
	Label   string              `json:"label"`
	Why     []string            `json:"why"`
	Figures []catalogue.Drifted `json:"figures"`
}

func driftsOf(t say.Teller, drifts []catalogue.Drift) []driftJSON {
	return each(drifts, func(d catalogue.Drift) driftJSON { return driftJSON{d.Label, told(t, d.Why), d.Figures} })
}

// figureChangeJSON is a figure and its change from the revision before; null
// where that one had none, or, of a tolerance, where it is not known.
type figureChangeJSON struct {
	Key             string          `json:"key"`
	Value           float64         `json:"value"`
	Unit            string          `json:"unit"`
	Error           float64         `json:"error"`
	Tolerance       *float64        `json:"tolerance"` // one standard deviation
	Change          *float64        `json:"change"`
	ChangeTolerance *float64        `json:"change-tolerance"`
	Real            diffing.Verdict `json:"real"` // "yes", "no" or "unknown"
	answerJSON
}

func newHistoryJSON(t say.Teller, model string, r *catalogue.Range, steps []*catalogue.Step, out []*catalogue.TakenOut, beside []*catalogue.Beside) historyJSON {
	doc := historyJSON{
		schema: schema1, Model: model, Revisions: stepsOf(t, steps), TakenOut: each(out, newOutJSON), SameRod: each(beside, newBesideJSON),
		Notes: []string{},
	}
	for _, s := range steps {
		doc.Notes = append(doc.Notes, told(t, s.Notes)...)
	}
	doc.Notes = append(doc.Notes, each(r.Notes(), error.Error)...)
	return doc
}

func newOutJSON(o *catalogue.TakenOut) outJSON {
	return outJSON{dateOrNull(o.When), orNull(o.Author), orNull(o.Why), o.Last.ID, orNull(o.Now)}
}

func stepsOf(t say.Teller, steps []*catalogue.Step) []stepJSON {
	return each(steps, func(s *catalogue.Step) stepJSON { return newStepJSON(t, s) })
}

func newStepJSON(t say.Teller, s *catalogue.Step) stepJSON {
	doc := stepJSON{
		ID: s.ID, Date: dateOrNull(s.When), Author: orNull(s.Author), Why: orNull(s.Why), Tell: orNull(s.Tell),
		Label: orNull(s.Label()), Labels: listOf(s.Labels), State: string(s.Status), Fault: faultOrNull(errors.Join(s.Fault(), s.Unworkable)),
		Changes: changesOf(s.Changes), Sights: sightsOf(t, s.Sights()), Figures: []figureChangeJSON{}, Heard: remarksOf(s.Heard), Drifts: driftsOf(t, s.Drifts),
		Later: laterOf(s.Later), Reworded: orNull(s.Reworded), Withdrawn: withdrawnLabels(s.Revision),
	}
	if s.Aside != nil {
		doc.Aside = dateOrNull(s.Aside.When)
	}
	if s.Seen != nil {
		doc.Beside = orNull(s.Seen.Label())
	}
	if s.Figures == nil {
		return doc
	}
	for _, f := range s.Figures.List {
		entry := figureChangeJSON{
			Key: f.Key, Value: f.Value, Unit: f.Unit, Error: f.Error,
			Tolerance: numberOrNull(f.Tolerance), Real: diffing.Unknown,
		}
		if shift, ok := shiftOf(s.Shifts, f.Key); ok {
			entry.Change, entry.ChangeTolerance = numberOrNull(shift.Change), numberOrNull(shift.Tolerance())
			entry.Real, entry.answerJSON = shift.Real(), newAnswerJSON(shift)
		}
		doc.Figures = append(doc.Figures, entry)
	}
	return doc
}
