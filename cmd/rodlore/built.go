package main

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

func newBuilt(p *program) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "built",
		Short: "the rods that were built, by serial number",
		Long: `Keeps the rods that left the workshop, in a file of builds/ for every year:
which revision each was built to, what it weighed and pulled, and what was
mended on it since. Who bought a rod is not kept: there is no place for names of
customers.

The files are yours to edit, too. Commands add to them and leave all else in
them as it is.`,
		Example: `  rodlore built add skerry-10@2026 --serial 0148 --weight 166.2g
  rodlore built list skerry-10
  rodlore built show 0147
  rodlore built chart`,
		Args: wants(0, 0, "one of add, chart, list, match, repair and show"),
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(newBuiltAdd(p), newBuiltList(p), newBuiltShow(p), newBuiltChart(p), newBuiltRepair(p), newBuiltMatch(p))
	return cmd
}

// completeSerials offers the serial numbers of rods to the shell.
func (p *program) completeSerials(cmd *cobra.Command, taken []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(taken) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return p.offers(cmd.Context(), func(r *catalogue.Range, offer func(word, what string)) error {
		rods, err := r.Builds("")
		for _, b := range rods {
			offer(b.Serial.Text, b.Model.Text+" "+b.As()+", "+b.Date.Text)
		}
		return err
	})
}

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
