package say

import (
	"time"
	"unicode"

	"rodlore/catalogue"
)

// Title names a revision: "Skerry 10, 2026 (2026-01-18, 5c2e1f0a)".
func (w *Words) Title(r *catalogue.Revision) string {
	name := r.Model
	if r.Spec() != nil {
		name = r.Spec().Name.Text
	}
	return name + ", " + w.Standing(r)
}

// Standing says which revision it is.
func (w *Words) Standing(r *catalogue.Revision) string {
	day, id := r.When.Format(time.DateOnly), r.ShortID()
	switch {
	case r.Status == catalogue.Released:
		return w.Say("standing.released", "labels", w.Labels(r), "day", day, "id", id)
	case r.Status != catalogue.Prototype:
		return w.Say("standing.draft")
	case r.Again != "":
		return w.Say("standing.again", "day", day, "id", id, "label", r.Again)
	}
	return w.Say("standing.prototype", "day", day, "id", id)
}

// Labels names the releases of a revision, and which of them are off sale.
func (w *Words) Labels(r *catalogue.Revision) string {
	return w.List(Each(r.Labels, func(label string) string { return w.Label(r, label) }))
}

// Label names one release of a revision, and says where it is off sale.
func (w *Words) Label(r *catalogue.Revision, label string) string {
	if r.IsWithdrawn(label) {
		return w.Say("standing.withdrawn", "label", label)
	}
	return label
}

// Verdict says whether a rod may go on sale.
func (w *Words) Verdict(v catalogue.Verdict) string { return w.Say("verdicts." + string(v)) }

// Gravity is the word in front of a reason.
func (w *Words) Gravity(r catalogue.Reason) string {
	if r.Grave {
		return w.Say("verdicts.against")
	}
	return w.Say("verdicts.reservation")
}

// RodName names a rod: a serial number as one, and anything else as it is.
func (w *Words) RodName(rod string) string {
	switch {
	case rod == catalogue.AsBuilt:
		return w.Say("standing.as built")
	case unicode.IsDigit([]rune(rod)[0]):
		return w.Say("standing.rod", "serial", rod)
	}
	return rod
}
