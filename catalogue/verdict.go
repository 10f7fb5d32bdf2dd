package catalogue

import (
	"math"

	"rodlore/evaluate"
	"rodlore/models"
)

// Verdict says whether a rod may go on sale.
type Verdict string

const (
	Fit              Verdict = "fit"
	WithReservations Verdict = "fit with reservations"
	NotFit           Verdict = "not fit"
)

// Reason is something that speaks against putting a rod on sale.
type Reason struct {
	Rule string // "step": stable, one of the rules below
	Top  string // of the rod with that top; "" with its main one
	// Grave says that the rod is not fit for it; others are reservations.
	Grave bool
	Note
}

// rule is one thing that may speak against a rod.
type rule struct {
	name string
	says func(*Review) []Note // one for every time that it does
	// tops says that it speaks of a rod with another top as well. Other rules are of
	// what is read, ticked or said of the rod as a whole, or stand for all of its tops.
	tops bool
}

// What keeps a rod from being fit, and what only has to be known. The numbers
// are common practice, no source.
var (
	graveRules = []rule{
		// Fewer than half of the rods built to the spec would be what it wants.
		{"want", wantsUnder(0, leastMet), true},
		// Customers would see more than the maker's limit for one release.
		{"step", stepsOver, false},
		// The reel hangs below the rod, where the line cannot rest on the blank
		// unless the rings let it.
		{"line on blank", lineOnBlank(false), true},
		// The blank reaches its limit before the test curve is pulled.
		{"test curve", limitUnder(0, 1), true},
	}
	reservations = []rule{
		// One rod in twenty, or more, would not be what the spec wants.
		{"want", wantsUnder(leastMet, enoughMet), true},
		{"no want", noWants, false},
		{"line on blank", lineOnBlank(true), true},
		// One ring bends the line twice as much as the mean of them.
		{"ring turn", unevenTurn, true},
		// Little is left between the test curve and the limit.
		{"test curve", limitUnder(1, littleLeft), true},
		// Even with the rod held low the line breaks far above the blank's limit.
		{"line strength", lineTooStrong, true},
		{"no strength", noStrength, false},
		{"measured", measuredOff, false},
		{"measured want", measuredOutside, false},
		{"not measured", noted("reasons.not measured", func(v *Review) bool { return v.Measured.Sheets == 0 }), false},
		// What was read of the bare blank was read before it was cut.
		{"blank read", readBeforeCut, false},
		{"by hand", notChecked, false},
		{"not saved", noted("reasons.not saved", func(v *Review) bool { return v.Status == Draft || v.Edited }), false},
		{"no reason", noted("reasons.no reason", func(v *Review) bool { return v.Status != Draft && v.Why == "" }), false},
		{"no words", noted("reasons.no words", func(v *Review) bool { return v.Status != Draft && v.Tell == "" }), false},
		{"no price", noPrice, false},
	}
)

const (
	leastMet   = 0.5
	enoughMet  = 0.95
	unevenRing = 2
	littleLeft = 1.25
	farAbove   = 1.5
)

// judge lists what speaks against a rod, the gravest first.
func judge(v *Review) []Reason {
	var list []Reason
	add := func(rules []rule, grave bool) {
		for _, of := range append([]*Review{v}, v.Tops...) {
			for _, r := range rules {
				if of != v && !r.tops {
					continue
				}
				for _, n := range r.says(of) {
					list = append(list, Reason{r.name, of.Top, grave, n})
				}
			}
		}
	}
	add(graveRules, true)
	add(reservations, false)
	return list
}

// Verdict is what the reasons come to.
func (v *Review) Verdict() Verdict {
	switch {
	case len(v.Reasons) == 0:
		return Fit
	case v.Reasons[0].Grave:
		return NotFit
	}
	return WithReservations
}

// noted says a note that has no values where something is so.
func noted(key string, is func(*Review) bool) func(*Review) []Note {
	return func(v *Review) (notes []Note) {
		if is(v) {
			notes = []Note{note(key)}
		}
		return notes
	}
}

// wantsUnder tells wants that as large a share of rods meets, from one share to
// below another.
func wantsUnder(from, below float64) func(*Review) []Note {
	return func(v *Review) (notes []Note) {
		for _, w := range v.Wants {
			if from <= w.Share && w.Share < below {
				f, _ := v.Figures.Get(w.Figure)
				notes = append(notes, note("reasons.want", "figure", FigureName(w.Figure), "wanted", w.Want,
					"value", evaluate.Quantity{Key: f.Key, Unit: f.Unit, Value: f.Value, Deviation: f.Tolerance}, "rods", w))
			}
		}
		return notes
	}
}

func noWants(v *Review) (notes []Note) {
	if len(v.Wants) == 0 {
		return []Note{note("reasons.no want")}
	}
	for _, w := range v.Wants {
		switch {
		case !w.Known:
			notes = append(notes, note("reasons.no figure", "figure", FigureName(w.Figure), "wanted", w.Want))
		case math.IsNaN(w.Share):
			notes = append(notes, note("reasons.no scatter", "figure", FigureName(w.Figure), "wanted", w.Want,
				"value", evaluate.Quantity{Key: w.Figure, Unit: w.Unit, Value: w.Value}))
		}
	}
	return notes
}

func stepsOver(v *Review) (notes []Note) {
	for _, s := range v.Sights() {
		key := "reasons.step over usual"
		if s.Own {
			key = "reasons.step over own"
		}
		if s.Over() {
			notes = append(notes, note(key, "sight", s, "label", v.Since.Against.Label(), "limit", StepLimit(s)))
		}
	}
	return notes
}

// lineOnBlank tells a line that lies on the blank, of reels on top of the rod or
// of those below it.
func lineOnBlank(onTop bool) func(*Review) []Note {
	return func(v *Review) []Note {
		f, ok := v.Figures.Get("line-touch")
		if !ok || f.Value <= f.Error || (v.Spec().Reel.Kind == models.Multiplier) != onTop {
			return nil
		}
		if onTop {
			return []Note{note("reasons.line on top", "length", measure(f))}
		}
		return []Note{note("reasons.line below", "length", measure(f))}
	}
}

func unevenTurn(v *Review) []Note {
	f, ok := v.Figures.Get("ring-turn-spread")
	if !ok || f.Value <= unevenRing {
		return nil
	}
	return []Note{note("reasons.ring turn", "times", measure(f))}
}

// limitUnder tells a load limit that is so many times the test curve.
func limitUnder(from, below float64) func(*Review) []Note {
	return func(v *Review) []Note {
		limit, known := v.Figures.Get("load-limit")
		curve, pulled := v.Figures.Get("test-curve")
		if ratio := limit.Value / curve.Value; !known || !pulled || ratio < from || ratio >= below {
			return nil
		}
		return []Note{note("reasons.test curve", "limit", measure(limit), "weakest", limit.Weakest, "curve", measure(curve))}
	}
}

func lineTooStrong(v *Review) []Note {
	if v.Limits == nil {
		return nil
	}
	low := v.Limits.Lifts[0]
	if v.Limits.Line < farAbove*low.Pull {
		return nil
	}
	return []Note{note("reasons.line strength", "line", evaluate.Quantity{Unit: "N", Value: v.Limits.Line},
		"limit", evaluate.Quantity{Unit: "N", Value: low.Pull}, "angle", evaluate.Quantity{Unit: "rad", Value: low.Angle})}
}

func noStrength(v *Review) []Note {
	switch {
	case v.Limits == nil:
		return []Note{note("reasons.no strength", "why", v.NoLimits)}
	case v.Limits.Line == 0:
		return []Note{note("reasons.no line strength")}
	}
	return nil
}

// measuredOff tells readings that lie farther off the figures than the farthest
// of as many would in nineteen rods of twenty.
func measuredOff(v *Review) (notes []Note) {
	most := evaluate.FarthestOff(max(len(v.Measured.List), 1))
	for _, m := range v.Measured.List {
		f, ok := v.Figures.Get(m.Key)
		if off := f.Deviations(m.Value, m.Deviation); ok && math.Abs(off) > most {
			notes = append(notes, note("reasons.measured", "figure", FigureName(m.Key), "measured", measured(m, f), "value", measure(f),
				"off", Deviations(math.Abs(off))))
		}
	}
	return notes
}

// measuredOutside tells readings that are not what the spec wants.
func measuredOutside(v *Review) (notes []Note) {
	for _, w := range v.Wants {
		for _, m := range v.Measured.Of(w.Figure) {
			if f, ok := v.Figures.Get(m.Key); ok && (m.Value < w.Min || m.Value > w.Max) {
				notes = append(notes, note("reasons.measured want", "figure", FigureName(m.Key), "wanted", w.Want,
					"measured", measured(m, f), "rod", RodNumber(m.Rod)))
			}
		}
	}
	return notes
}

func measured(m Measurement, f evaluate.Figure) evaluate.Quantity {
	return evaluate.Quantity{Key: f.Key, Unit: f.Unit, Value: m.Value, Deviation: m.Deviation}
}

// measure is a figure's value alone.
func measure(f evaluate.Figure) evaluate.Quantity {
	return evaluate.Quantity{Key: f.Key, Unit: f.Unit, Value: f.Value}
}

// readBeforeCut tells that a bought blank is shorter or longer than at the last
// release, and what was read of it is what was read then: its wall and modulus would be
// found wrongly from that.
func readBeforeCut(v *Review) []Note {
	if v.Since == nil || len(v.Spec().Blank.Measured) == 0 {
		return nil
	}
	cut := ""
	for _, c := range v.Since.Changes {
		switch {
		case c.Path[0].Key == "blank":
			return nil
		case c.Path[0].Key == "sections" && c.Path.Last() == "length":
			cut = c.Path[0].Entry
		}
	}
	if cut == "" {
		return nil
	}
	return []Note{note("reasons.blank read", "section", cut, "label", v.Since.Against.Label())}
}

func notChecked(v *Review) []Note {
	var open []string
	for _, c := range v.ByHand {
		if c.Tick == nil {
			open = append(open, c.Check.Text)
		}
	}
	if len(open) == 0 {
		return nil
	}
	return []Note{note("reasons.by hand", "checks", open)}
}

func noPrice(v *Review) []Note {
	if len(v.Unpriced) == 0 {
		return nil
	}
	return []Note{note("reasons.no price", "parts", v.Unpriced)}
}
