package catalogue

import (
	"fmt"
	"math"
	"strings"

	"rodlore/catalogue/visible"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
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
	// Grave says that the rod is not fit for it; others are reservations.
	Grave bool
	Text  string
}

// rule is one thing that may speak against a rod.
type rule struct {
	name string
	says func(*Review) []string // a text for every time that it does
}

// What keeps a rod from being fit, and what only has to be known. The numbers
// are common practice, no source.
var (
	graveRules = []rule{
		// Fewer than half of the rods built to the spec would be what it wants.
		{"want", wantsUnder(0, leastMet)},
		// Customers would see more than the maker's limit for one release.
		{"step", stepsOver},
		// The reel hangs below the rod, where the line cannot rest on the blank
		// unless the rings let it.
		{"line on blank", lineOnBlank(false)},
		// The blank reaches its limit before the test curve is pulled.
		{"test curve", limitUnder(0, 1)},
	}
	reservations = []rule{
		// One rod in twenty, or more, would not be what the spec wants.
		{"want", wantsUnder(leastMet, enoughMet)},
		{"no want", noWants},
		{"line on blank", lineOnBlank(true)},
		// One ring bends the line twice as much as the mean of them.
		{"ring turn", unevenTurn},
		// Little is left between the test curve and the limit.
		{"test curve", limitUnder(1, littleLeft)},
		// Even with the rod held low the line breaks far above the blank's limit.
		{"line strength", lineTooStrong},
		{"no strength", noStrength},
		{"measured", measuredOff},
		{"measured want", measuredOutside},
		{"not measured", notMeasured},
		{"by hand", notChecked},
		{"not saved", notSaved},
		{"no reason", noReason},
		{"no words", noWords},
		{"no price", noPrice},
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
		for _, r := range rules {
			for _, text := range r.says(v) {
				list = append(list, Reason{r.name, grave, text})
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

// wantsUnder tells wants that as large a share of rods meets, from one share to
// below another.
func wantsUnder(from, below float64) func(*Review) []string {
	return func(v *Review) (texts []string) {
		for _, w := range v.Wants {
			if from <= w.Share && w.Share < below {
				f, _ := v.figure(w.Figure)
				texts = append(texts, fmt.Sprintf("%s: wanted is %s, it is %s, and of the rods built to this spec %s would do", figures.Short(w.Figure),
					w.Text, v.Display.WithTolerance(f.Key, f.Unit, f.Value, f.Tolerance), w.Rods()))
			}
		}
		return texts
	}
}

func noWants(v *Review) (texts []string) {
	if len(v.Wants) == 0 {
		return []string{"the spec does not say what the rod must do: give its limits under wants:"}
	}
	for _, w := range v.Wants {
		switch {
		case !w.Known:
			texts = append(texts, fmt.Sprintf("%s: wanted is %s, but the rod has no such figure", figures.Short(w.Figure), w.Text))
		case math.IsNaN(w.Share):
			texts = append(texts, fmt.Sprintf("%s: wanted is %s, but how far rods scatter about %s is not known", figures.Short(w.Figure), w.Text,
				v.Display.Value(w.Figure, w.Unit, w.Value)))
		}
	}
	return texts
}

func stepsOver(v *Review) (texts []string) {
	for _, s := range v.Sights() {
		if !s.Over() {
			continue
		}
		by := s.By
		if by == "" {
			by = s.Old + " → " + s.New
		}
		limit := "your limit"
		if !s.Own {
			limit = "the usual limit"
		}
		texts = append(texts, fmt.Sprintf("%s %s beside %s: %s for one release is %s", s.Aspect, by, v.Since.Against.Label(), limit, s.Most))
	}
	return texts
}

// lineOnBlank tells a line that lies on the blank, of reels on top of the rod or
// of those below it.
func lineOnBlank(onTop bool) func(*Review) []string {
	return func(v *Review) []string {
		f, ok := v.figure("line-touch")
		if !ok || f.Value <= f.Error || (v.Spec().Reel.Kind == models.Multiplier) != onTop {
			return nil
		}
		text := "under half the test curve the line lies on the blank over " + v.show(f)
		if onTop {
			return []string{text + ": it wears both, and a ring more there would lift it"}
		}
		return []string{text + ", and the reel hangs below the rod"}
	}
}

func unevenTurn(v *Review) []string {
	f, ok := v.figure("ring-turn-spread")
	if !ok || f.Value <= unevenRing {
		return nil
	}
	return []string{"one ring bends the line by " + v.show(f) + " the mean of all of them"}
}

// limitUnder tells a load limit that is so many times the test curve.
func limitUnder(from, below float64) func(*Review) []string {
	return func(v *Review) []string {
		limit, known := v.figure("load-limit")
		curve, pulled := v.figure("test-curve")
		if ratio := limit.Value / curve.Value; !known || !pulled || ratio < from || ratio >= below {
			return nil
		}
		return []string{fmt.Sprintf("the estimate of the blank's limit is %s and its test curve %s: little or nothing is left for a fish",
			v.show(limit), v.show(curve))}
	}
}

func lineTooStrong(v *Review) []string {
	if v.Limits == nil {
		return nil
	}
	low := v.Limits.Lifts[0]
	if v.Limits.Line < farAbove*low.Pull {
		return nil
	}
	return []string{fmt.Sprintf("its line breaks at %s, far above the estimate of the blank's limit of %s with the rod held at %s to the line: name a weaker line, or tell customers to set the drag below",
		v.Display.Value("", "N", v.Limits.Line), v.Display.Value("", "N", low.Pull), v.Display.Value("", "rad", low.Angle))}
}

func noStrength(v *Review) []string {
	switch {
	case v.Limits == nil:
		return []string{"its strength is not known: " + v.NoLimits.Error()}
	case v.Limits.Line == 0:
		return []string{"the spec gives no strength of line: put line: {breaks: …} into it"}
	}
	return nil
}

// measuredOff tells readings that lie farther off the figures than the farthest
// of as many would in nineteen rods of twenty.
func measuredOff(v *Review) (texts []string) {
	most := evaluate.FarthestOff(max(len(v.Measured.List), 1))
	for _, m := range v.Measured.List {
		f, ok := v.figure(m.Key)
		if off := f.Deviations(m.Value, m.Deviation); ok && math.Abs(off) > most {
			texts = append(texts, fmt.Sprintf("%s: measured %s, worked out %s, which is %.1f standard deviations off: measure again, or fit the spec",
				figures.Short(m.Key), v.measured(m, f), v.show(f), math.Abs(off)))
		}
	}
	return texts
}

// measuredOutside tells readings that are not what the spec wants.
func measuredOutside(v *Review) (texts []string) {
	for _, w := range v.Wants {
		for _, m := range v.Measured.Of(w.Figure) {
			if f, ok := v.figure(m.Key); ok && (m.Value < w.Min || m.Value > w.Max) {
				texts = append(texts, fmt.Sprintf("%s: wanted is %s, and %s was measured on %s", figures.Short(m.Key), w.Text, v.measured(m, f), RodName(m.Rod)))
			}
		}
	}
	return texts
}

func (v *Review) measured(m Measurement, f evaluate.Figure) string {
	return v.Display.WithTolerance(f.Key, f.Unit, m.Value, m.Deviation)
}

func notMeasured(v *Review) []string {
	if v.Measured.Sheets > 0 {
		return nil
	}
	return []string{"no rod of this revision was measured: put what you read into a file of bench/"}
}

func notChecked(v *Review) []string {
	var open []string
	for _, c := range v.ByHand {
		if c.Tick == nil {
			open = append(open, c.Check.Text)
		}
	}
	if len(open) == 0 {
		return nil
	}
	return []string{"not ticked by hand: " + strings.Join(open, ", ")}
}

func notSaved(v *Review) []string {
	if v.Status != Draft {
		return nil
	}
	return []string{fmt.Sprintf("it is not saved: run \"rodlore save %s --why …\"", visible.Arg(v.Model))}
}

func noReason(v *Review) []string {
	if v.Status == Draft || v.Why != "" {
		return nil
	}
	return []string{"it was saved without a reason"}
}

func noWords(v *Review) []string {
	if v.Status == Draft || v.Tell != "" {
		return nil
	}
	return []string{"there are no words for customers: save with --tell"}
}

func noPrice(v *Review) []string {
	if len(v.Unpriced) == 0 {
		return nil
	}
	return []string{"parts.yaml gives no price of " + strings.Join(v.Unpriced, ", ")}
}
