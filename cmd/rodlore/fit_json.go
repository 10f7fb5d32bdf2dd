package main

import (
	"rodlore/catalogue/say"
	"rodlore/evaluate"
)

// fitJSON is what fit prints, SI.
type fitJSON struct {
	schema
	Model        string                 `json:"model"`
	Revision     revisionJSON           `json:"revision"` // that the rod was built to
	Sheet        string                 `json:"sheet"`
	Rod          string                 `json:"rod"`
	Date         string                 `json:"date"`
	Readings     []readingJSON          `json:"readings"`
	Unknowns     []unknownJSON          `json:"unknowns"`
	Correlations []evaluate.Correlation `json:"correlations"` // of two unknowns, by their places in the list from 0
	Squares      float64                `json:"squares"`
	Chance       float64                `json:"chance"`
	Threshold    float64                `json:"threshold"`
	For          string                 `json:"for"`
	Known        float64                `json:"known"` // standard deviation of that figure of the rod
	Next         []nextJSON             `json:"next"`
	Written      *string                `json:"written"` // the file; null where none was
	Caution      string                 `json:"caution"`
}

// readingJSON is one reading; of a traced point the value is how far it lies off
// the rod.
type readingJSON struct {
	Name      string  `json:"name"`
	Figure    *string `json:"figure"`
	Value     float64 `json:"value"`
	Deviation float64 `json:"deviation"`
	Unit      string  `json:"unit"`
	Before    float64 `json:"before"`
	After     float64 `json:"after"`
	Off       float64 `json:"off"`
	Disagrees bool    `json:"disagrees"`
}

// unknownJSON is what was found of one number: how much more than spec or range
// say, and its standard deviations.
type unknownJSON struct {
	Free    string  `json:"free"`
	Section *string `json:"section"`
	Value   float64 `json:"value"`
	Unit    string  `json:"unit"`
	Before  float64 `json:"before"`
	After   float64 `json:"after"`
	Told    bool    `json:"told"`
}

type nextJSON struct {
	Name  string  `json:"name"`
	Known float64 `json:"known"`
}

func newFitJSON(rod *fittedRod) fitJSON {
	fit, t := rod.fit, say.Teller{Words: say.English()}
	doc := fitJSON{
		schema: schema1, Model: rod.Model, Revision: revisionOf(rod.Revision),
		Sheet: rod.sheet.File, Rod: rod.sheet.Rod.Text, Date: rod.sheet.Date.Text,
		Readings: each(fit.Readings, func(r evaluate.FittedReading) readingJSON {
			return readingJSON{t.Note(r.Name()), orNull(r.Figure), r.Value, r.Deviation, r.Unit, r.Before, r.After, r.Off, r.Disagrees}
		}),
		Unknowns: each(fit.Parameters, func(u evaluate.Parameter) unknownJSON {
			return unknownJSON{string(u.Free), orNull(u.Section), u.Value, u.Unit, u.Before, u.After, u.Told()}
		}),
		Correlations: listOf(fit.Correlations),
		Next:         each(fit.Next, func(n evaluate.Next) nextJSON { return nextJSON{t.Note(n.Name()), n.Know} }),
		Squares:      fit.Squares, Chance: fit.Chance, Threshold: fit.Threshold, For: fit.For, Known: fit.Know, Caution: say.English().Say("cautions.weights.text"),
	}
	if rod.written {
		doc.Written = &rod.draft.File
	}
	return doc
}
