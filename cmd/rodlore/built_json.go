package main

import (
	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/models"
)

// rodOf is a rod that was built, SI, with its weighing if it is among those. off is how
// many standard deviations, of rods of its revision and of the balance, its weight lies
// off the one worked out; null where either is not known.
func rodOf(b *catalogue.Build, weighings []catalogue.Weighing) object {
	var worked, tolerance, off any
	if w := weighingOf(b, weighings); w != nil {
		worked, tolerance, off = w.Worked.Value, w.Worked.Tolerance, w.Off()
	}
	return object{
		{"serial", b.Serial.Text}, {"model", b.Model.Text}, {"release", b.Release.Text},
		{"top", orNull(b.Top.Text)}, // another one that is on it; null for the main one
		{"date", b.Date.Text}, {"weight", givenOrNull(b.Weight)}, {"worked", worked}, {"tolerance", tolerance}, {"off", off},
		{"test-curve", givenOrNull(b.TestCurve)}, {"blank", orNull(b.Blank.Text)}, {"notes", orNull(b.Notes.Text)},
		{"repairs", say.Each(b.Repairs, repairOf)},
	}
}

// rodsOf are rods with those of their weighings that there are.
func rodsOf(rods []*catalogue.Build, weighings []catalogue.Weighing) []object {
	return say.Each(rods, func(b *catalogue.Build) object { return rodOf(b, weighings) })
}

// repairOf is what was mended on a rod, and its weight afterwards, SI.
func repairOf(r models.Repair) object {
	return object{{"date", r.Date.Text}, {"done", r.Done.Text}, {"section", orNull(r.Section.Text)}, {"weight", givenOrNull(r.Weight)}}
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
