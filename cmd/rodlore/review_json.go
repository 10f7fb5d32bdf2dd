package main

import (
	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate"
)

// reviewJSON is what review prints.
type reviewJSON struct {
	schema
	Model    string          `json:"model"`
	Revision revisionJSON    `json:"revision"`
	Verdict  string          `json:"verdict"`
	Reasons  []reasonJSON    `json:"reasons"`
	Wants    []metJSON       `json:"wants"`
	Since    *revisionJSON   `json:"since"` // the last release before it; null where there is none
	Sights   []sightJSON     `json:"sights"`
	Figures  []changedJSON   `json:"figures"`
	Words    wordsJSON       `json:"words"`
	Strength *strengthJSON   `json:"strength"` // null where nothing is known of it
	Unpriced []string        `json:"unpriced"`
	Tops     []topReviewJSON `json:"tops"` // the rod with each of its other tops
	ByHand   []byHandJSON    `json:"by-hand"`
	Notes    []footnote      `json:"notes"`
	Written  []string        `json:"written"`
}

// reasonJSON is something that speaks against a rod.
type reasonJSON struct {
	Rule  string  `json:"rule"`
	Top   *string `json:"top"`   // of the rod with that top; null with its main one
	Grave bool    `json:"grave"` // it makes the rod not fit; others are reservations
	Text  string  `json:"text"`
}

// topReviewJSON is what there is to say of a rod with another top.
type topReviewJSON struct {
	Top      string        `json:"top"`
	Wants    []metJSON     `json:"wants"`
	Sights   []sightJSON   `json:"sights"`
	Figures  []changedJSON `json:"figures"`
	Strength *strengthJSON `json:"strength"`
}

func reasonsOf(word func(catalogue.Reason) string, v *catalogue.Review) []reasonJSON {
	return each(v.Reasons, func(r catalogue.Reason) reasonJSON { return reasonJSON{r.Rule, orNull(r.Top), r.Grave, word(r)} })
}

// metJSON is a want with the share of rods built to the spec that meet it, 0 to
// 1; null where it is not known.
type metJSON struct {
	wantedJSON
	Share *float64 `json:"share"`
}

// changedJSON is a figure, how it changed since the last release and what was
// measured of it; change is null where there is none before.
type changedJSON struct {
	rowJSON
	Change *float64 `json:"change"`
	Real   *string  `json:"real"`
	answerJSON
}

// strengthJSON are estimates of strength, SI; none is a safe load.
type strengthJSON struct {
	Factor    float64          `json:"factor"`
	LowAngle  float64          `json:"low-angle"`
	LowPull   float64          `json:"low-pull"` // that reaches the limit at low-angle
	LowAt     float64          `json:"low-at"`   // from the tip, where the blank would fail then
	LowBy     evaluate.Failure `json:"low-by"`
	Line      *float64         `json:"line"`
	LineAngle *float64         `json:"line-angle"`
	Caution   string           `json:"caution"`
}

// byHandJSON is a check by hand; by and date are null where it is not ticked for
// this revision.
type byHandJSON struct {
	Check string  `json:"check"`
	Look  string  `json:"look"`
	By    *string `json:"by"`
	Date  *string `json:"date"`
}

func newReviewJSON(t say.Teller, v *catalogue.Review, written []string) reviewJSON {
	doc := reviewJSON{
		schema: schema1, Model: v.Model, Revision: revisionOf(v.Revision), Verdict: string(v.Verdict()), Reasons: reasonsOf(reasonWords(t, v.Model), v),
		Wants: metOf(v), Tops: each(v.Tops, func(of *catalogue.Review) topReviewJSON {
			return topReviewJSON{of.Top, metOf(of), sightsOf(t, of.Sights()), changedOf(t, of), strengthOf(of)}
		}),
		Sights: sightsOf(t, v.Sights()), Figures: changedOf(t, v), Words: toldWords(t, v.Tell, v.Since), Strength: strengthOf(v),
		Unpriced: listOf(v.Unpriced), ByHand: each(v.ByHand, newByHandJSON), Notes: figureNotes(t, v.Figures, v.Measured), Written: listOf(written),
	}
	if v.Since != nil {
		doc.Since = revisionOrNull(v.Since.Against)
	}
	return doc
}

func metOf(v *catalogue.Review) []metJSON {
	return each(v.Wants, func(w evaluate.Wanted) metJSON { return metJSON{newWantedJSON(w), numberOrNull(w.Share)} })
}

func newByHandJSON(c catalogue.HandCheck) byHandJSON {
	doc := byHandJSON{Check: c.Check.Text, Look: c.Look.Text}
	if c.Tick != nil {
		doc.By, doc.Date = &c.Tick.By.Text, &c.Tick.Date.Text
	}
	return doc
}

func changedOf(t say.Teller, v *catalogue.Review) []changedJSON {
	var shifts []diffing.Shift
	if v.Since != nil {
		shifts = v.Since.Shifts
	}
	return each(v.Figures.List, func(f evaluate.Figure) changedJSON {
		row := changedJSON{rowJSON: newRowJSON(t, v.Figures, v.Measured, f)}
		if s, ok := shiftOf(shifts, f.Key); ok {
			row.Change, row.Real, row.answerJSON = numberOrNull(s.Change), orNull(string(s.Real())), newAnswerJSON(s)
		}
		return row
	})
}

func strengthOf(v *catalogue.Review) *strengthJSON {
	if v.Limits == nil {
		return nil
	}
	low := v.Limits.Lifts[0]
	s := &strengthJSON{Factor: v.Limits.Factor, LowAngle: low.Angle, LowPull: low.Pull, LowAt: low.At, LowBy: low.By, LineAngle: numberOrNull(v.Limits.LineAngle), Caution: say.English().Say("cautions.limits.text")}
	if v.Limits.Line > 0 {
		s.Line = &v.Limits.Line
	}
	return s
}
