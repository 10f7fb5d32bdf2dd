package main

import (
	"rodlore/catalogue"
	"rodlore/catalogue/say"
)

// yearOfRange is what yearbook prints.
func yearOfRange(t say.Teller, y *catalogue.Year, files []object) object {
	n := y.Counts()
	models := func(list []*catalogue.ModelYear) []object {
		return say.Each(list, func(m *catalogue.ModelYear) object { return modelYear(t, m) })
	}
	return object{
		{"year", y.Number},
		{"begun", orNull(y.Begun)}, // the day of the range's first save; null before it
		{"counts", object{{"releases", n.Releases}, {"prototypes", n.Prototypes}, {"rods", n.Rods}, {"repairs", n.Repairs}, {"remarks", n.Remarks}}},
		{"models", models(y.Models)},   // that something became of
		{"unchanged", models(y.Quiet)}, // the others
		{"stock", say.Each(y.Stock, func(e catalogue.StockEdit) object { // saved changes of parts and materials, oldest first
			return object{{"date", e.State.When}, {"why", e.State.Why()}, {"file", e.File}, {"changes", changesOf(e.Changes)}}
		})},
		{"signals", signalsJSON(y.Chart, y.Signals())}, // of the control chart of all rods, that reach into the year
		{"notes", told(t, y.Notes)},
		{"files", files},
	}
}

// modelYear is one model in one year.
func modelYear(t say.Teller, m *catalogue.ModelYear) object {
	return object{
		{"model", m.Model}, {"name", m.Name()},
		{"stood", revisionOf(m.Stood)}, // when the year ended; null where it was not there
		{"label", orNull(m.Label)},     // of what was on sale then
		{"ahead", m.Ahead},             // it stood as a prototype
		{"began", m.Began},
		{"renamed", say.Each(m.Renamed(), func(rev *catalogue.Revision) object {
			return object{{"date", rev.When}, {"old", rev.Before.FileName()}, {"new", rev.FileName()}}
		})},
		{"taken-out", outOf(m.Gone)},
		{"releases", say.Each(m.Releases, func(i *catalogue.Issue) object { // oldest first
			return object{
				{"label", i.Label}, {"released", i.When},
				{"since", orNull(i.Since)}, // label of the release before it
				{"again", orNull(i.Again)}, // label of an earlier release that was the same rod
				{"made", madeOf(i.Made)},   // since then, oldest first
				{"step", stepOf(t, i.Step)},
			}
		})},
		{"prototypes", madeOf(m.Prototypes)}, // saved in the year and not on sale when it ended
		{"under-way", underWay(t, m.UnderWay)},
		{"same-rod", besidesOf(m.Besides)}, // saved in the year, oldest first
		{"rods", rodsOf(m.Rods, m.Weighings)},
		{"repairs", say.Each(m.Repairs, func(r catalogue.Mending) object {
			return append(object{{"serial", r.Serial.Text}}, repairOf(r.Repair)...)
		})},
		{"heard", remarksOf(m.Heard)},
	}
}

// madeOf are saved revisions and why each was made.
func madeOf(revs []*catalogue.Revision) []object {
	return say.Each(revs, func(rev *catalogue.Revision) object {
		return object{{"id", rev.ID}, {"date", rev.When}, {"why", rev.Why}}
	})
}

// underWay is what was made since the last release and is not on sale.
func underWay(t say.Teller, u *catalogue.Trial) object {
	if u == nil {
		return nil
	}
	return object{
		{"since", orNull(u.Since)}, // label of that release
		{"saved", madeOf(u.Saved)}, // in the year, oldest first
		{"newest", stepOf(t, u.Newest)}, {"draft", stepOf(t, u.Draft)},
	}
}
