package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/evaluate/control"
	"rodlore/evaluate/figures"
)

func newBuiltChart(p *program) *cobra.Command {
	return &cobra.Command{
		Use:   "chart [MODEL]",
		Short: "does the workshop drift: a control chart of weights",
		Long: `Charts how much each rod weighed more than its revision works out to, in the
order in which they were built: the rods of one model in weight, those of all
models in standard deviations of rods of their revision.

The limits come from the rods themselves: the mean and, to either side, three
standard deviations, taken as the mean of the steps from each rod to the next
divided by 1.128 (individuals chart: NIST/SEMATECH e-Handbook of Statistical
Methods, 6.3.2.2). A rod beyond them, a step of more than 3.267 mean steps, or
eight rods in a row on one side of the mean hardly come by chance: something
changed in the workshop.`,
		Example: `  rodlore built chart
  rodlore built chart skerry-10`,
		Args:              wants(0, 1, "one model at most"),
		ValidArgsFunction: p.completeModels,
		RunE: p.inRange(func(ctx context.Context, r *catalogue.Range, args []string) error {
			c, err := r.ChartWeights(ctx, strings.Join(args, ""))
			if err != nil {
				return err
			}
			return p.show(func() object { return chartOf(english(r), c) }, func() { p.showChart(r, c) })
		}),
	}
}

// signalsJSON are stretches of rods that chance would hardly make, by their serial
// numbers.
func signalsJSON(c *catalogue.WeightChart, signals []control.Signal) []object {
	return say.Each(signals, func(s control.Signal) object {
		return object{
			{"rule", s.Rule}, {"from", c.Weighings[s.From].Serial.Text}, {"to", c.Weighings[s.To].Serial.Text},
			{"above", s.Above}, {"text", signalWords(c, s)},
		}
	})
}

// chartOf is what built chart prints. Values, mean and limits are in the unit given:
// "kg", or "1" for standard deviations of rods of a revision. They are null where there
// are too few rods for limits.
func chartOf(t say.Teller, c *catalogue.WeightChart) object {
	unit, none := "kg", math.NaN()
	if c.InDeviations {
		unit = "1"
	}
	l := c.Control
	if l == nil {
		l = &control.Chart{Mean: none, Lower: none, Upper: none, Deviation: none, MeanRange: none, RangeLimit: none}
	}
	var points []object // in the order built
	for i, w := range c.Weighings {
		beside := none // from the rod before; null for the first
		if i > 0 {
			beside = math.Abs(c.Values[i] - c.Values[i-1])
		}
		points = append(points, append(rodOf(w.Build, c.Weighings), pair{"value", c.Values[i]}, pair{"range", beside}))
	}
	return object{
		{"unit", unit}, {"mean", l.Mean}, {"lower", l.Lower}, {"upper", l.Upper}, {"deviation", l.Deviation},
		{"mean-range", l.MeanRange}, {"range-limit", l.RangeLimit}, {"points", points},
		{"signals", signalsJSON(c, l.Signals)}, {"notes", told(t, c.Notes)},
	}
}

func (p *printer) showChart(r *catalogue.Range, c *catalogue.WeightChart) {
	t := english(r)
	if c.Control == nil {
		p.printf("a chart wants three rods that were weighed; so far %d were\n", len(c.Weighings))
		p.showNotes(notesOf(told(t, c.Notes)))
		return
	}
	d := t.Single("weight")
	p.print("", chartTable(d, c, min(p.width(), 100)))
	p.paragraph("%s", chartLegend(d, c))
	for _, s := range c.Control.Signals {
		p.paragraph("! %s", signalWords(c, s))
	}
	if len(c.Control.Signals) == 0 {
		p.paragraph("No sign of drift: no rod lies beyond the limits, no step from rod to rod is too large, and no eight in a row lie on one side of the mean.")
	}
	p.showNotes(notesOf(told(t, c.Notes)))
}

// chartTable is the rods, one a line, with a drawing of where each lies.
func chartTable(d figures.Display, c *catalogue.WeightChart, width int) table {
	t := newTable(
		words("rod"), words("built"), words("model"), words("release"), numbers("weight"), numbers("more by"), numbers("off"), words("drawn"),
	)
	t.drawn = true
	for i, w := range c.Weighings {
		row := []string{
			w.Serial.Text, w.Date.Text, "", w.As(), d.Value("weight", "kg", float64(w.Weight.Value)), "", figures.Deviations(w.Off()), "",
		}
		if c.InDeviations {
			row[2] = w.Model.Text
		} else {
			row[5] = d.Change("weight", "kg", c.Values[i], w.Worked.Value)
		}
		t.add(row...)
	}
	draw := newStrip(c, max(width-t.width(width)-len(columnGap), leastStrip)) // beside all else
	for i := range t.rows {
		t.rows[i][7] = draw.line(i)
	}
	return t
}

// strip draws each rod of a chart on a line of its own, all to one scale.
type strip struct {
	chart    *catalogue.WeightChart
	width    int
	low, top float64
}

const leastStrip = 15 // columns

func newStrip(c *catalogue.WeightChart, width int) strip {
	return strip{
		chart: c, width: width,
		low: min(slices.Min(c.Values), c.Control.Lower), top: max(slices.Max(c.Values), c.Control.Upper),
	}
}

// line draws rod i between the limits and about the mean. What is worked out is
// where nothing is off.
func (s strip) line(i int) string {
	cells := slices.Repeat([]rune{' '}, s.width)
	put := func(v float64, mark rune) {
		if at := s.column(v); at >= 0 && at < s.width {
			cells[at] = mark
		}
	}
	l := s.chart.Control
	put(0, '·')
	put(l.Mean, '|')
	put(l.Lower, '(')
	put(l.Upper, ')')
	mark := 'o'
	if slices.ContainsFunc(l.Signals, func(sig control.Signal) bool { return i >= sig.From && i <= sig.To }) {
		mark = 'x'
	}
	put(s.chart.Values[i], mark)
	return string(cells)
}

func (s strip) column(v float64) int {
	if s.top == s.low {
		return s.width / 2
	}
	return int(math.Round((v - s.low) / (s.top - s.low) * float64(s.width-1)))
}

// chartLegend says what is drawn and what the limits are.
func chartLegend(d figures.Display, c *catalogue.WeightChart) string {
	l := c.Control
	amount := func(v float64) string {
		if c.InDeviations {
			return figures.Deviations(v)
		}
		return d.Change("weight", "kg", v, v)
	}
	beyond := 0
	for _, w := range c.Weighings {
		if math.Abs(w.Off()) > 2 {
			beyond++
		}
	}
	text := fmt.Sprintf("o a rod, x one of a signal, · the weight worked out, | the mean, ( ) the limits. "+
		"The mean is %s, and by their own scatter rods lie between %s and %s. ", amount(l.Mean), amount(l.Lower), amount(l.Upper))
	if c.InDeviations {
		text += "All that in standard deviations of rods of each revision. "
	}
	text += fmt.Sprintf("Against the tolerances of their specs %d of %s are off by more than two standard deviations.",
		beyond, count(len(c.Weighings), "rod"))
	if len(c.Weighings) < control.Enough {
		text += fmt.Sprintf(" Limits of fewer than %d rods are rough.", control.Enough)
	}
	return text
}

// signalsOf are the signals that a rod is part of.
func signalsOf(c *catalogue.WeightChart, b *catalogue.Build) []control.Signal {
	if c.Control == nil {
		return nil
	}
	at := slices.IndexFunc(c.Weighings, func(w catalogue.Weighing) bool { return w.Pos == b.Pos })
	return slices.DeleteFunc(slices.Clone(c.Control.Signals), func(s control.Signal) bool { return at < s.From || at > s.To })
}

// signalWords say what a signal is.
func signalWords(c *catalogue.WeightChart, s control.Signal) string {
	from, to := c.Weighings[s.From], c.Weighings[s.To]
	name := func(w catalogue.Weighing) string { return w.Serial.Text + " (" + w.Date.Text + ")" }
	how := "lighter"
	if s.Above {
		how = "heavier"
	}
	switch s.Rule {
	case control.Beyond:
		return fmt.Sprintf("%s is %s than the limits: look for what was different about it.", name(from), how)
	case control.Jump:
		return fmt.Sprintf("From %s to %s is a jump: the second is %s by more than rods differ.", name(from), name(to), how)
	}
	return fmt.Sprintf("From %s to %s all %d rods are %s for their specs than the mean: something changed in the workshop, such as a batch of blanks, cork or varnish, or the balance.",
		name(from), name(to), s.To-s.From+1, how)
}
