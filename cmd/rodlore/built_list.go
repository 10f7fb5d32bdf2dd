package main

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/evaluate/figures"
)

func newBuiltList(p *program) *cobra.Command {
	var year string
	cmd := &cobra.Command{
		Use:   "list [MODEL]",
		Short: "the rods built, and how far each weight is off",
		Long: `The rods built, of one model or of all, in the order in which they were built. A
weight is off by so many standard deviations of rods of its revision: two rods
in three lie within one, nineteen in twenty within two.`,
		Example: `  rodlore built list
  rodlore built list skerry-10 --year 2026`,
		Args:              wants(0, 1, "one model at most"),
		ValidArgsFunction: p.completeModels,
		PreRunE: func(*cobra.Command, []string) error {
			if _, err := time.Parse("2006", year); year != "" && err != nil {
				return misuseOf("year", "%q is no year such as 2026", year)
			}
			return nil
		},
		RunE: p.inRange(func(ctx context.Context, r *catalogue.Range, args []string) error {
			return p.listBuilds(ctx, r, strings.Join(args, ""), year)
		}),
	}
	cmd.Flags().StringVar(&year, "year", "", "only those built in this `year`")
	return cmd
}

func (p *program) listBuilds(ctx context.Context, r *catalogue.Range, model, year string) error {
	rods, err := r.Builds(model)
	if err != nil {
		return err
	}
	rods = slices.DeleteFunc(rods, func(b *catalogue.Build) bool { return !strings.HasPrefix(b.Date.Text, year) })
	weighings, notes, err := r.Weigh(ctx, rods)
	if err != nil {
		return err
	}
	t := english(r)
	if p.json {
		return p.writeJSON(object{{"rods", rodsOf(rods, weighings)}, {"notes", told(t, notes)}})
	}
	if len(rods) == 0 {
		p.println("no such rod is written down; \"rodlore built add MODEL@LABEL --serial NUMBER\" does it")
		return nil
	}
	p.print("", rodsTable(t.Display, rods, weighings))
	p.println("off: in standard deviations of rods of that revision")
	p.showNotes(notesOf(told(t, notes)))
	return nil
}

// rodsTable lists rods.
func rodsTable(d figures.Display, rods []*catalogue.Build, weighings []catalogue.Weighing) table {
	t := newTable(
		words("rod"), words("built"), words("model"), words("release"), numbers("weight"), numbers("off"), numbers("test curve"), filling(""),
	)
	for _, b := range rods {
		row := []string{b.Serial.Text, b.Date.Text, b.Model.Text, b.As(), "", "", "", ""}
		if b.Weight.Set() {
			row[4] = d.Single("weight").Value("weight", "kg", float64(b.Weight.Value))
		}
		if w := weighingOf(b, weighings); w != nil {
			row[5] = figures.Deviations(w.Off())
		}
		if b.TestCurve.Set() {
			row[6] = d.Single("test-curve").Value("test-curve", "N", float64(b.TestCurve.Value))
		}
		if n := len(b.Repairs); n > 0 {
			row[7] = count(n, "repair")
		}
		t.add(row...)
	}
	return t
}

// weighingWords say how the weight of a rod came out.
func weighingWords(d figures.Display, w catalogue.Weighing) string {
	d = d.Single("weight")
	return "it weighs " + d.Value("weight", "kg", float64(w.Weight.Value)) + "; worked out " +
		d.WithTolerance("weight", "kg", w.Worked.Value, w.Worked.Tolerance) + ", so it is off by " + figures.Deviations(w.Off()) + " standard deviations"
}
