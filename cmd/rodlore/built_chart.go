package main

import (
	"math"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/evaluate/control"
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
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.look(cmd.Context(), func(r *catalogue.Range) error {
				c, err := r.ChartWeights(cmd.Context(), strings.Join(args, ""))
				if err != nil {
					return err
				}
				if p.json {
					return p.writeJSON(chartOf(english(r), c))
				}
				p.showChart(r, c)
				return nil
			})
		},
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
