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
					return p.writeJSON(newChartJSON(english(r), c))
				}
				p.showChart(r, c)
				return nil
			})
		},
	}
}

// chartJSON is what built chart prints. Values, mean and limits are in the unit
// given: "kg", or "1" for standard deviations of rods of a revision. They are
// null where there are too few rods for limits.
type chartJSON struct {
	schema
	Unit       string        `json:"unit"`
	Mean       *float64      `json:"mean"`
	Lower      *float64      `json:"lower"`
	Upper      *float64      `json:"upper"`
	Deviation  *float64      `json:"deviation"`
	MeanRange  *float64      `json:"mean-range"`
	RangeLimit *float64      `json:"range-limit"`
	Points     []chartedJSON `json:"points"` // in the order built
	Signals    []signalJSON  `json:"signals"`
	Notes      []string      `json:"notes"`
}

// chartedJSON is one rod on the chart.
type chartedJSON struct {
	rodJSON
	Value float64  `json:"value"`
	Range *float64 `json:"range"` // from the rod before; null for the first
}

// signalJSON is a stretch of rods that chance would hardly make.
type signalJSON struct {
	Rule  control.Rule `json:"rule"`
	From  string       `json:"from"` // serial numbers
	To    string       `json:"to"`
	Above bool         `json:"above"`
	Text  string       `json:"text"`
}

func signalsJSON(c *catalogue.WeightChart, signals []control.Signal) []signalJSON {
	return each(signals, func(s control.Signal) signalJSON {
		return signalJSON{s.Rule, c.Weighings[s.From].Serial.Text, c.Weighings[s.To].Serial.Text, s.Above, signalWords(c, s)}
	})
}

func newChartJSON(t say.Teller, c *catalogue.WeightChart) chartJSON {
	doc := chartJSON{schema: schema1, Unit: "kg", Points: []chartedJSON{}, Signals: []signalJSON{}, Notes: told(t, c.Notes)}
	if c.InDeviations {
		doc.Unit = "1"
	}
	for i, w := range c.Weighings {
		point := chartedJSON{rodJSON: newRodJSON(w.Build, c.Weighings), Value: c.Values[i]}
		if i > 0 {
			point.Range = numberOrNull(math.Abs(c.Values[i] - c.Values[i-1]))
		}
		doc.Points = append(doc.Points, point)
	}
	if l := c.Control; l != nil {
		doc.Mean, doc.Lower, doc.Upper, doc.Deviation = &l.Mean, &l.Lower, &l.Upper, &l.Deviation
		doc.MeanRange, doc.RangeLimit, doc.Signals = &l.MeanRange, &l.RangeLimit, signalsJSON(c, l.Signals)
	}
	return doc
}
