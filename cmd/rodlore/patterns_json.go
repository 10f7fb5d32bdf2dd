package main

import "rodlore/evaluate"

// patternsJSON is what patterns prints, SI.
type patternsJSON struct {
	schema
	Model    string          `json:"model"`
	Revision revisionJSON    `json:"revision"`
	Tension  float64         `json:"tension"` // of the line that all patterns are laid out by
	Present  patternJSON     `json:"present"`
	Patterns []patternJSON   `json:"patterns"`
	Notes    []evaluate.Note `json:"notes"`
	Written  *string         `json:"written"` // the file that a pattern was put into
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
	Rod     []placeJSON       `json:"rod"`  // the bent blank's middle, tip first
	Line    []placeJSON       `json:"line"` // from the tip ring through the rings to the reel
}

// patternRingJSON is one ring with what the line does to it, tip ring first.
type patternRingJSON struct {
	At       float64  `json:"at"` // from the tip
	Part     string   `json:"part"`
	Whipping *float64 `json:"whipping"` // null where it is the usual length
	Load     float64  `json:"load"`
	Turn     float64  `json:"turn"`
}

// placeJSON is a place in the plane of the bend, as of a bend's points.
type placeJSON struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

func newPatternsJSON(s subject, list *laidOut) patternsJSON {
	doc := patternsJSON{
		schema: schema1, Model: s.Model, Revision: revisionOf(s.Revision), Tension: list.present.Tension,
		Present:  newPatternJSON(pattern{Pattern: list.present, count: len(list.present.Rings) - 1}),
		Patterns: []patternJSON{}, Notes: listOf(list.present.Figures.Notes),
	}
	for _, o := range list.others {
		doc.Patterns = append(doc.Patterns, newPatternJSON(o))
	}
	return doc
}

func newPatternJSON(o pattern) patternJSON {
	doc := patternJSON{
		Count: o.count, Like: orNull(o.like),
		Rings: []patternRingJSON{}, Figures: []figureJSON{}, Binding: []string{}, Rod: []placeJSON{}, Line: []placeJSON{},
	}
	if o.fault != nil {
		doc.Fault = orNull(o.fault.Error())
		return doc
	}
	doc.Binding = listOf(o.Binding)
	doc.addRings(o.Pattern)
	for _, f := range o.Figures.List {
		doc.Figures = append(doc.Figures, newFigureJSON(o.Figures, f))
	}
	for _, pt := range o.Bent {
		doc.Rod = append(doc.Rod, placeJSON{pt.X, pt.Y})
	}
	for _, pl := range o.Line {
		doc.Line = append(doc.Line, placeJSON(pl))
	}
	return doc
}

func (doc *patternJSON) addRings(o *evaluate.Pattern) {
	for i, g := range o.Spec.Rings {
		ring := patternRingJSON{At: float64(g.At.Value), Part: g.Part.Text, Load: o.Rings[i].Load, Turn: o.Rings[i].Turn}
		if g.Whipping.Set() {
			whipping := float64(g.Whipping.Value)
			ring.Whipping = &whipping
		}
		doc.Rings = append(doc.Rings, ring)
	}
}
