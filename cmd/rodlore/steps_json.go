package main

import (
	"rodlore/catalogue/say"
	"rodlore/diffing"
)

// stepsJSON is what steps prints, SI.
type stepsJSON struct {
	schema
	Model    string        `json:"model"`
	Start    revisionJSON  `json:"start"`
	Goal     string        `json:"goal"`  // as it was named
	First    []string      `json:"first"` // figures
	Figures  []figureJSON  `json:"figures"`
	Releases []releaseJSON `json:"releases"` // the last one is the goal
	Ways     float64       `json:"ways"`     // orders that keep to the limits, of which this is the best
	Together [][]string    `json:"together"` // edits that were not told apart
	Written  *string       `json:"written"`  // the folder
	Notes    []footnote    `json:"notes"`
}

// releaseJSON is one release that is planned, against the one before.
type releaseJSON struct {
	ID      string       `json:"id"`
	Changes []changeJSON `json:"changes"`
	Sights  []sightJSON  `json:"sights"`
	Figures []figureJSON `json:"figures"`
	File    *string      `json:"file"`
}

func newStepsJSON(j *journey) stepsJSON {
	t := say.English().Teller(j.set)
	doc := stepsJSON{
		schema: schema1, Model: j.model, Start: revisionOf(j.start), Goal: j.goal, First: listOf(j.first), Figures: figuresOf(t, j.Start),
		Ways: j.Ways, Together: listOf(j.Together), Written: orNull(j.dir), Notes: listOf(j.notes(t)),
	}
	before := j.startSpec
	for i, r := range j.Releases {
		release := releaseJSON{
			ID: r.Spec.ID(), Changes: changesOf(diffing.Specs(before, r.Spec)), Sights: sightsOf(t, r.Sights), Figures: figuresOf(t, r.Figures),
		}
		if j.dir != "" {
			release.File = orNull(j.file(i))
		}
		doc.Releases = append(doc.Releases, release)
		before = r.Spec
	}
	return doc
}
