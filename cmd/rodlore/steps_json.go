package main

import (
	"rodlore/catalogue/say"
	"rodlore/diffing"
)

// journeyOf is what steps prints, SI.
func journeyOf(j *journey) object {
	t, before := say.English().Teller(j.set), j.startSpec
	var releases []object // each against the one before; the last one is the goal
	for i, r := range j.Releases {
		file := ""
		if j.dir != "" {
			file = j.file(i)
		}
		releases = append(releases, object{
			{"id", r.Spec.ID()}, {"changes", changesOf(diffing.Specs(before, r.Spec))}, {"sights", sightsOf(t, r.Sights)},
			{"figures", figuresOf(t, r.Figures)}, {"file", orNull(file)},
		})
		before = r.Spec
	}
	return object{
		{"model", j.model}, {"start", revisionOf(j.start)},
		{"goal", j.goal},   // as it was named
		{"first", j.first}, // figures
		{"figures", figuresOf(t, j.Start)}, {"releases", releases},
		{"ways", j.Ways},           // orders that keep to the limits, of which this is the best
		{"together", j.Together},   // edits that were not told apart
		{"written", orNull(j.dir)}, // the folder
		{"notes", j.notes(t)},
	}
}
