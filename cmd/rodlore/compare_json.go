package main

import (
	"fmt"
	"strconv"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
)

// compareJSON is what compare prints.
type compareJSON struct {
	schema
	Old     sideJSON     `json:"old"`
	New     sideJSON     `json:"new"`
	Changes []changeJSON `json:"changes"`
	Sights  []sightJSON  `json:"sights"` // none where two models are compared
	Figures []shiftJSON  `json:"figures"`
	Notes   []footnote   `json:"notes"`
	Shares  []shareJSON  `json:"shares,omitzero"` // where they were asked for
	Action  *actionJSON  `json:"action"`          // null where the rods do not belong together
}

// actionJSON says whether two rods have one action at two powers.
type actionJSON struct {
	Answer    string  `json:"answer"` // "one", "two" or "open"
	Apart     float64 `json:"apart"`  // the most that the bends are turned from each other in one place, rad
	Low       float64 `json:"low"`    // all but few pairs of rods are further apart
	High      float64 `json:"high"`   // and less far
	Limit     float64 `json:"limit"`  // what one action is apart at most
	Power     float64 `json:"power"`  // of the new rod over that of the old
	Tolerance float64 `json:"tolerance"`
}

func newActionJSON(a *evaluate.Actions) *actionJSON {
	if a == nil {
		return nil
	}
	answer := map[diffing.Answer]string{diffing.Same: "one", diffing.Changed: "two", diffing.Open: "open"}[diffing.AnswerActions(*a)]
	return &actionJSON{answer, a.Apart, a.Low, a.High, diffing.ActionLimit(), a.Power, a.Tolerance}
}

// actionWords says whether two rods have one action at two powers.
func actionWords(d figures.Display, a evaluate.Actions) string {
	words := map[diffing.Answer]string{
		diffing.Same: "one action at two powers", diffing.Changed: "two actions", diffing.Open: "the numbers cannot tell whether it is one action at two powers or two actions",
	}[diffing.AnswerActions(a)]
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }
	return fmt.Sprintf("%s: it takes %s ± %s times the load to bend it as far, and then the two are turned from each other by at most %s (%s to %s in pairs of rods; up to %s is one action)",
		words, number(a.Power), number(a.Tolerance), d.Value("", "rad", a.Apart),
		d.Value("", "rad", a.Low), d.Value("", "rad", a.High), d.Value("", "rad", diffing.ActionLimit()))
}

type sideJSON struct {
	Model    string       `json:"model"`
	Revision revisionJSON `json:"revision"`
}

// shiftJSON is one figure on both sides, SI; null where a side has none.
type shiftJSON struct {
	Key    string   `json:"key"`
	Old    *float64 `json:"old"`
	New    *float64 `json:"new"`
	Unit   string   `json:"unit"`
	Change *float64 `json:"change"`
	Error  float64  `json:"error"`
	// Tolerance is one standard deviation of the change; null where it is not
	// known.
	Tolerance *float64        `json:"tolerance"`
	Real      diffing.Verdict `json:"real"` // "yes", "no" or "unknown"
	answerJSON
	OldWeakest *weakestJSON `json:"old-weakest,omitempty"` // of load limits: what fails first, and where
	NewWeakest *weakestJSON `json:"new-weakest,omitempty"`
}

// answerJSON is what can be said of a figure beside another rod.
type answerJSON struct {
	Answer  *diffing.Answer `json:"answer"`  // "changed", "same" or "open"; null where a side lacks the figure
	Noticed *float64        `json:"noticed"` // the least change that an angler notices, SI
	Mean    *float64        `json:"mean"`    // of the change in pairs of rods, SI; null where it is not known
	Often   *float64        `json:"often"`   // the share of pairs of rods in which the change shows; null where it is not known
	Rods    *int            `json:"rods"`    // how many of either to measure to settle it; null where it is settled or too many
}

func newAnswerJSON(s diffing.Shift) (a answerJSON) {
	if !s.Both() {
		return a
	}
	answer := s.Answer()
	a.Answer, a.Noticed, a.Mean, a.Often = &answer, numberOrNull(s.Noticed), numberOrNull(s.Mean()), numberOrNull(s.Often())
	if n, ok := s.Rods(); ok {
		a.Rods = &n
	}
	return a
}

func newCompareJSON(t say.Teller, s *catalogue.Step) compareJSON {
	return compareJSON{
		schema:  schema1,
		Old:     sideJSON{s.Against.Model, revisionOf(s.Against)},
		New:     sideJSON{s.Model, revisionOf(s.Revision)},
		Changes: changesOf(s.Changes), Sights: sightsOf(t, s.Sights()), Figures: shiftsOf(s.Shifts), Notes: listOf(comparisonNotes(t, s)),
	}
}

func shiftsOf(shifts []diffing.Shift) []shiftJSON {
	return each(shifts, func(f diffing.Shift) shiftJSON {
		entry := shiftJSON{
			Key: f.Key, Unit: f.Unit, Change: numberOrNull(f.Change), Error: f.Error,
			Tolerance: numberOrNull(f.Tolerance()), Real: f.Real(), answerJSON: newAnswerJSON(f),
		}
		if f.Old != nil {
			entry.Old, entry.OldWeakest = numberOrNull(f.Old.Value), newWeakestJSON(f.Old.Weakest)
		}
		if f.New != nil {
			entry.New, entry.NewWeakest = numberOrNull(f.New.Value), newWeakestJSON(f.New.Weakest)
		}
		return entry
	})
}
