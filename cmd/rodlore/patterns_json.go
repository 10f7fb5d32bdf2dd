package main

import (
	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/models"
)

// patternsJSON is what patterns prints, SI.
type patternsJSON struct {
	schema
	Model    string        `json:"model"`
	Revision revisionJSON  `json:"revision"`
	Tension  float64       `json:"tension"` // of the line that all patterns are laid out by
	Present  patternJSON   `json:"present"`
	Patterns []patternJSON `json:"patterns"`
	Notes    []footnote    `json:"notes"`
	Written  *string       `json:"written"` // the file that a pattern was put into
}

// patternJSON is one pattern. Where there is none its fault says why, and the
// lists are empty.
type patternJSON struct {
	Count   int               `json:"count"`
	Like    *string           `json:"like"` // the model it is taken from; null where it was laid out
	Rings   []patternRingJSON `json:"rings"`
	Figures []figureJSON      `json:"figures"`
	Binding []string          `json:"binding"`
	Fault   *string           `json:"fault"`
	Rod     []evaluate.Place  `json:"rod"`  // the bent blank's middle, tip first
	Line    []evaluate.Place  `json:"line"` // from the tip ring through the rings to the reel
}

// patternRingJSON is one ring with what the line does to it, tip ring first.
type patternRingJSON struct {
	At       float64  `json:"at"` // from the tip
	Part     string   `json:"part"`
	Whipping *float64 `json:"whipping"` // null where it is the usual length
	Load     float64  `json:"load"`
	Turn     float64  `json:"turn"`
}

func newPatternsJSON(s subject, list *laidOut) patternsJSON {
	t := s.teller()
	return patternsJSON{
		schema: schema1, Model: s.Model, Revision: revisionOf(s.Revision), Tension: list.present.Tension,
		Present:  newPatternJSON(t, pattern{Pattern: list.present, count: len(list.present.Rings) - 1}),
		Patterns: each(list.others, func(o pattern) patternJSON { return newPatternJSON(t, o) }), Notes: listOf(notesOn(t, list.present.Figures.Notes)),
	}
}

func newPatternJSON(t say.Teller, o pattern) patternJSON {
	if o.fault != nil { // its lists are empty
		o.Pattern = &evaluate.Pattern{Spec: &models.Spec{}, Figures: &evaluate.Figures{}}
	}
	doc := patternJSON{
		Count: o.count, Like: orNull(o.like), Rings: []patternRingJSON{}, Figures: figuresOf(t, o.Figures), Binding: listOf(t.Notes(o.Binding)), Fault: faultOrNull(o.fault),
		Rod: each(o.Bent, func(pt evaluate.Point) evaluate.Place { return evaluate.Place{X: pt.X, Y: pt.Y} }), Line: listOf(o.Line),
	}
	for i, g := range o.Spec.Rings {
		doc.Rings = append(doc.Rings, patternRingJSON{float64(g.At.Value), g.Part.Text, givenOrNull(g.Whipping), o.Pattern.Rings[i].Load, o.Pattern.Rings[i].Turn})
	}
	return doc
}
