package main

import (
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
)

// yearJSON is what yearbook prints.
type yearJSON struct {
	schema
	Year      int             `json:"year"`
	Begun     *string         `json:"begun"` // the day of the range's first save; null before it
	Counts    countsJSON      `json:"counts"`
	Models    []modelYearJSON `json:"models"`    // that something became of
	Unchanged []modelYearJSON `json:"unchanged"` // the others
	Stock     []stockJSON     `json:"stock"`     // parts and materials, oldest first
	Signals   []signalJSON    `json:"signals"`   // of the control chart of all rods, that reach into the year
	Notes     []string        `json:"notes"`
	Files     []writtenJSON   `json:"files"`
}

// countsJSON is a year in a few numbers.
type countsJSON struct {
	Releases   int `json:"releases"`
	Prototypes int `json:"prototypes"`
	Rods       int `json:"rods"`
	Repairs    int `json:"repairs"`
	Remarks    int `json:"remarks"`
}

// modelYearJSON is one model in one year.
type modelYearJSON struct {
	Model      string        `json:"model"`
	Name       string        `json:"name"`
	Stood      *revisionJSON `json:"stood"` // when the year ended; null where it was not there
	Label      *string       `json:"label"` // of what was on sale then
	Ahead      bool          `json:"ahead"` // it stood as a prototype
	Began      bool          `json:"began"`
	Renamed    []renamedJSON `json:"renamed"`
	TakenOut   *outJSON      `json:"taken-out"`
	Releases   []issueJSON   `json:"releases"`   // oldest first
	Prototypes []madeJSON    `json:"prototypes"` // saved in the year and not on sale when it ended
	UnderWay   *underWayJSON `json:"under-way"`
	SameRod    []besideJSON  `json:"same-rod"` // edits saved in the year that made no other rod, oldest first
	Rods       []rodJSON     `json:"rods"`
	Repairs    []yearRepair  `json:"repairs"`
	Heard      []remarkJSON  `json:"heard"`
}

type renamedJSON struct {
	Date time.Time `json:"date"`
	Old  string    `json:"old"`
	New  string    `json:"new"`
}

// issueJSON is one release and what it changed since the one before it.
type issueJSON struct {
	Label    string     `json:"label"`
	Released time.Time  `json:"released"`
	Since    *string    `json:"since"` // label of the release before it
	Again    *string    `json:"again"` // label of an earlier release that was the same rod
	Made     []madeJSON `json:"made"`  // since then, oldest first
	Step     stepJSON   `json:"step"`
}

// madeJSON is a saved revision and why it was made.
type madeJSON struct {
	ID   string    `json:"id"`
	Date time.Time `json:"date"`
	Why  string    `json:"why"`
}

// underWayJSON is what was made since the last release and is not on sale.
type underWayJSON struct {
	Since  *string    `json:"since"` // label of that release
	Saved  []madeJSON `json:"saved"` // in the year, oldest first
	Newest *stepJSON  `json:"newest"`
	Draft  *stepJSON  `json:"draft"`
}

type yearRepair struct {
	Serial string `json:"serial"`
	repairJSON
}

// stockJSON is one saved change of the parts or the materials.
type stockJSON struct {
	Date    time.Time    `json:"date"`
	Why     string       `json:"why"`
	File    string       `json:"file"`
	Changes []changeJSON `json:"changes"`
}

func newYearJSON(t say.Teller, y *catalogue.Year, files []writtenJSON) yearJSON {
	return yearJSON{
		schema: schema1, Year: y.Number, Begun: orNull(y.Begun), Counts: countsJSON(y.Counts()),
		Models: modelYears(t, y.Models), Unchanged: modelYears(t, y.Quiet),
		Stock: each(y.Stock, func(e catalogue.StockEdit) stockJSON {
			return stockJSON{e.State.When, e.State.Why(), e.File, changesOf(e.Changes)}
		}),
		Signals: signalsJSON(y.Chart, y.Signals()), Notes: told(t, y.Notes), Files: files,
	}
}

func modelYears(t say.Teller, list []*catalogue.ModelYear) []modelYearJSON {
	return each(list, func(m *catalogue.ModelYear) modelYearJSON { return newModelYearJSON(t, m) })
}

func newModelYearJSON(t say.Teller, m *catalogue.ModelYear) modelYearJSON {
	doc := modelYearJSON{
		Model: m.Model, Name: m.Name(), Stood: revisionOrNull(m.Stood), Label: orNull(m.Label), Ahead: m.Ahead, Began: m.Began,
		Renamed: each(m.Renamed(), func(rev *catalogue.Revision) renamedJSON {
			return renamedJSON{rev.When, rev.Before.FileName(), rev.FileName()}
		}),
		Releases: each(m.Releases, func(i *catalogue.Issue) issueJSON {
			return issueJSON{i.Label, i.When, orNull(i.Since), orNull(i.Again), madeOf(i.Made), newStepJSON(t, i.Step)}
		}),
		Prototypes: madeOf(m.Prototypes), UnderWay: newUnderWayJSON(t, m.UnderWay), SameRod: each(m.Besides, newBesideJSON), Rods: rodsOf(m.Rods, m.Weighings), Heard: remarksOf(m.Heard),
		Repairs: each(m.Repairs, func(r catalogue.Mending) yearRepair { return yearRepair{r.Serial.Text, newRepairJSON(r.Repair)} }),
	}
	if m.Gone != nil {
		out := newOutJSON(m.Gone)
		doc.TakenOut = &out
	}
	return doc
}

func madeOf(revs []*catalogue.Revision) []madeJSON {
	return each(revs, func(rev *catalogue.Revision) madeJSON { return madeJSON{rev.ID, rev.When, rev.Why} })
}

func newUnderWayJSON(t say.Teller, u *catalogue.Trial) *underWayJSON {
	if u == nil {
		return nil
	}
	return &underWayJSON{orNull(u.Since), madeOf(u.Saved), stepOrNull(t, u.Newest), stepOrNull(t, u.Draft)}
}

func stepOrNull(t say.Teller, s *catalogue.Step) *stepJSON {
	if s == nil {
		return nil
	}
	doc := newStepJSON(t, s)
	return &doc
}
