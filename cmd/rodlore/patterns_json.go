package main

import (
	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/models"
)

// patternsOf is what patterns prints, SI, with the file that a pattern was put into.
func patternsOf(s subject, list *laidOut, written string) object {
	t := s.teller()
	return object{
		{"model", s.Model}, {"revision", revisionOf(s.Revision)},
		{"tension", list.present.Tension}, // of the line that all patterns are laid out by
		{"present", patternOf(t, pattern{Pattern: list.present, count: len(list.present.Rings) - 1})},
		{"patterns", say.Each(list.others, func(o pattern) object { return patternOf(t, o) })},
		{"notes", notesOn(t, list.present.Figures.Notes)},
		{"written", orNull(written)},
	}
}

// patternOf is one pattern. Where there is none its fault says why, and the lists are
// empty.
func patternOf(t say.Teller, o pattern) object {
	if o.fault != nil {
		o.Pattern = &evaluate.Pattern{Spec: &models.Spec{}, Figures: &evaluate.Figures{}}
	}
	var rings []object // with what the line does to each, tip ring first
	for i, g := range o.Spec.Rings {
		rings = append(rings, object{
			{"at", float64(g.At.Value)}, // from the tip
			{"part", g.Part.Text},
			{"whipping", givenOrNull(g.Whipping)}, // null where it is the usual length
			{"load", o.Pattern.Rings[i].Load}, {"turn", o.Pattern.Rings[i].Turn},
		})
	}
	return object{
		{"count", o.count},
		{"like", orNull(o.like)}, // the model it is taken from; null where it was laid out
		{"rings", rings}, {"figures", figuresOf(t, o.Figures)}, {"binding", t.Notes(o.Binding)}, {"fault", o.fault},
		{"rod", say.Each(o.Bent, func(pt evaluate.Point) evaluate.Place { return evaluate.Place{X: pt.X, Y: pt.Y} })}, // the bent blank's middle, tip first
		{"line", o.Line}, // from the tip ring through the rings to the reel
	}
}
