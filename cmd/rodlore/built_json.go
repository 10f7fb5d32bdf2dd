package main

import (
	"rodlore/catalogue"
	"rodlore/models"
)

// rodJSON is a rod that was built, SI. Off is how many standard deviations, of
// rods of its revision and of the balance, its weight lies off the one worked
// out; null where either is not known.
type rodJSON struct {
	Serial    string       `json:"serial"`
	Model     string       `json:"model"`
	Release   string       `json:"release"`
	Top       *string      `json:"top"` // another one that is on it; null for the main one
	Date      string       `json:"date"`
	Weight    *float64     `json:"weight"`
	Worked    *float64     `json:"worked"`
	Tolerance *float64     `json:"tolerance"`
	Off       *float64     `json:"off"`
	TestCurve *float64     `json:"test-curve"`
	Blank     *string      `json:"blank"`
	Notes     *string      `json:"notes"`
	Repairs   []repairJSON `json:"repairs"`
}

// repairJSON is what was mended on a rod, SI.
type repairJSON struct {
	Date    string   `json:"date"`
	Done    string   `json:"done"`
	Section *string  `json:"section"`
	Weight  *float64 `json:"weight"` // of the rod afterwards
}

// newRodJSON gives a rod with its weighing, if it is among those.
func newRodJSON(b *catalogue.Build, weighings []catalogue.Weighing) rodJSON {
	doc := rodJSON{
		Serial: b.Serial.Text, Model: b.Model.Text, Release: b.Release.Text, Top: orNull(b.Top.Text), Date: b.Date.Text,
		Weight: givenOrNull(b.Weight), TestCurve: givenOrNull(b.TestCurve),
		Blank: orNull(b.Blank.Text), Notes: orNull(b.Notes.Text), Repairs: each(b.Repairs, newRepairJSON),
	}
	if w := weighingOf(b, weighings); w != nil {
		doc.Worked, doc.Tolerance, doc.Off = numberOrNull(w.Worked.Value), numberOrNull(w.Worked.Tolerance), numberOrNull(w.Off())
	}
	return doc
}

// rodsOf are rods with those of their weighings that there are.
func rodsOf(rods []*catalogue.Build, weighings []catalogue.Weighing) []rodJSON {
	return each(rods, func(b *catalogue.Build) rodJSON { return newRodJSON(b, weighings) })
}

func newRepairJSON(r models.Repair) repairJSON {
	return repairJSON{r.Date.Text, r.Done.Text, orNull(r.Section.Text), givenOrNull(r.Weight)}
}

// weighingOf is the weighing of a rod; nil where it has none.
func weighingOf(b *catalogue.Build, weighings []catalogue.Weighing) *catalogue.Weighing {
	for i := range weighings {
		if weighings[i].Pos == b.Pos {
			return &weighings[i]
		}
	}
	return nil
}
