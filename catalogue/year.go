package catalogue

import (
	"slices"
	"time"

	"rodlore/diffing"
	"rodlore/evaluate/control"
	"rodlore/models"
)

// Year is what became of a range in one calendar year. A revision is of the year
// that the clock of its save showed, and a release of that of its tag's; a rod, a
// repair and a remark are of the day that was written down.
type Year struct {
	Number int
	Models []*ModelYear // that something became of, by name
	Quiet  []*ModelYear // that were there when it ended and of which there is nothing to tell
	Stock  []StockEdit  // of parts and materials, oldest first
	Chart  *WeightChart // of all rods up to the end of the year; nil where none was weighed in it
	Begun  *State       // the range's first save; nil where nothing was saved yet
	Notes  []Note       // what could not be read
}

// ModelYear is one model in one year.
type ModelYear struct {
	Model      string      // its name today, or the last one that it had
	Stood      *Revision   // at the end of the year; nil where it was not there
	Label      string      // of what was on sale then; "" where nothing was
	Ahead      bool        // Stood was a prototype then, which may be of years before
	Began      bool        // it was first saved in the year
	Gone       *TakenOut   // took it out of the range in the year; nil where none did
	Saved      []*Revision // in the year, oldest first
	Prototypes []*Revision // those of Saved that were not on sale when it ended
	Releases   []*Issue    // oldest first
	Besides    []*Beside   // saved in the year, oldest first
	UnderWay   *Trial      // what was made after the last of them; nil where nothing was
	Rods       []*Build    // in the order in which they were built
	Weighings  []Weighing  // of those of Rods that were weighed
	Repairs    []Mending   // oldest first
	Heard      []models.Remark
}

// Issue is one release of a model, as a step from the release before it in time.
type Issue struct {
	*Step
	Label string
	When  time.Time
	Since string // label of the release that the step is from; "" for the first
	// Made is what was saved since the release before it, oldest first, itself the
	// last; nothing where it had been on sale before.
	Made []*Revision
	// Again is the label of an earlier release that was the very same rod; "" where
	// there was none.
	Again string
}

// Trial is what was made of a model in the year after its last release.
type Trial struct {
	Saved []*Revision // oldest first
	Since string      // label of the last release; "" where there was none
	// Newest is the last of them that can be read, as a step from the last release
	// or else from how the model stood before the year; nil where none can be read.
	Newest *Step
	// Draft is what is not saved now, as a step from what was saved last; nil where
	// all is, and in a year that is not now.
	Draft *Step
}

// Mending is a repair and the rod that it was done to.
type Mending struct {
	models.Repair
	Rod *Build
}

// StockEdit is one saved change of the parts or the materials that all models
// share.
type StockEdit struct {
	State   *State
	File    string
	Begun   bool // the file was not there before
	Changes []diffing.Change
}

// YearCounts are a year in a few numbers.
type YearCounts struct{ Releases, Prototypes, Rods, Repairs, Remarks int }

// Counts adds up what there was of all models.
func (y *Year) Counts() YearCounts {
	var n YearCounts
	for _, m := range y.Models {
		n.Releases += len(m.Releases)
		n.Prototypes += len(m.Prototypes)
		n.Rods += len(m.Rods)
		n.Repairs += len(m.Repairs)
		n.Remarks += len(m.Heard)
	}
	return n
}

// Signals are those of the chart that reach into the year.
func (y *Year) Signals() []control.Signal {
	if y.Chart == nil || y.Chart.Control == nil {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(y.Chart.Control.Signals), func(s control.Signal) bool {
		return y.Chart.Weighings[s.To].Date.Day.Year() < y.Number
	})
}

// Name is what the model was called by its spec when the year ended, or by the
// last one that can be read; its Model where none can.
func (m *ModelYear) Name() string {
	if s := m.spec(); s != nil {
		return s.Name.Text
	}
	return m.Model
}

// Family is what the model was grouped by then; "" where it stood alone.
func (m *ModelYear) Family() string {
	if s := m.spec(); s != nil {
		return s.Family.Text
	}
	return ""
}

// spec is that of the model when the year ended, or the last one that can be read;
// nil where none can.
func (m *ModelYear) spec() *models.Spec {
	revs := slices.Clone(m.Saved)
	for _, i := range m.Releases {
		revs = append(revs, i.Revision)
	}
	if m.UnderWay != nil && m.UnderWay.Draft != nil && len(revs) == 0 {
		revs = append(revs, m.UnderWay.Draft.Revision)
	}
	if m.Stood != nil {
		revs = append(revs, m.Stood)
	}
	for _, rev := range slices.Backward(revs) {
		if rev.Spec() != nil {
			return rev.Spec()
		}
	}
	return nil
}

// Renamed are the revisions of the year that gave the model another name, oldest
// first.
func (m *ModelYear) Renamed() []*Revision {
	var list []*Revision
	for _, rev := range m.Saved {
		if rev.Before != nil && rev.Before.File != rev.File {
			list = append(list, rev)
		}
	}
	return list
}

// told reports whether something became of the model.
func (m *ModelYear) told() bool {
	return len(m.Saved) > 0 || m.Gone != nil || len(m.Releases) > 0 || m.UnderWay != nil ||
		len(m.Besides) > 0 || len(m.Rods) > 0 || len(m.Repairs) > 0 || len(m.Heard) > 0
}
