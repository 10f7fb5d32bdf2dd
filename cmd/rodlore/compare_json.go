package main

import (
	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate"
)

// compareJSON is what compare prints.
type compareJSON struct {
	schema
	Old     sideJSON        `json:"old"`
	New     sideJSON        `json:"new"`
	Changes []changeJSON    `json:"changes"`
	Sights  []sightJSON     `json:"sights"` // none where two models are compared
	Figures []shiftJSON     `json:"figures"`
	Notes   []evaluate.Note `json:"notes"`
	Shares  []shareJSON     `json:"shares,omitzero"` // where they were asked for
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
}

// answerJSON is what can be said of a figure beside another rod.
type answerJSON struct {
	Answer  *diffing.Answer `json:"answer"`  // "changed", "same" or "open"; null where a side lacks the figure
	Noticed *float64        `json:"noticed"` // the least change that an angler notices, SI
	Often   *float64        `json:"often"`   // the share of pairs of rods in which the change shows; null where it is not known
	Rods    *int            `json:"rods"`    // how many of either to measure to settle it; null where it is settled or too many
}

func newAnswerJSON(s diffing.Shift) (a answerJSON) {
	if !s.Both() {
		return a
	}
	answer := s.Answer()
	a.Answer, a.Noticed, a.Often = &answer, numberOrNull(s.Noticed), numberOrNull(s.Often())
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
		Changes: changesOf(s.Changes), Sights: sightsOf(t, s.Sights), Figures: shiftsOf(s.Shifts), Notes: listOf(comparisonNotes(s)),
	}
}

func shiftsOf(shifts []diffing.Shift) []shiftJSON {
	return each(shifts, func(f diffing.Shift) shiftJSON {
		entry := shiftJSON{
			Key: f.Key, Unit: f.Unit, Change: numberOrNull(f.Change), Error: f.Error,
			Tolerance: numberOrNull(f.Tolerance()), Real: f.Real(), answerJSON: newAnswerJSON(f),
		}
		if f.Old != nil {
			entry.Old = numberOrNull(f.Old.Value)
		}
		if f.New != nil {
			entry.New = numberOrNull(f.New.Value)
		}
		return entry
	})
}
