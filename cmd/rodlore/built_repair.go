package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/models"
	"rodlore/models/spelling"
)

// repairOptions are what is written down of a repair, as it was typed.
type repairOptions struct {
	done, date, section, weight, why string
}

func newBuiltRepair(p *program) *cobra.Command {
	var o repairOptions
	cmd := &cobra.Command{
		Use:   "repair NUMBER --done WORDS",
		Short: "write down what was mended on a rod",
		Long: `Writes down what was mended on a rod that was built, in the file of builds/ for
the year of the repair. With --why it is saved at once.`,
		Example: `  rodlore built repair 0124 --done "new tip ring" --section tip
  rodlore built repair 0147 --done "seat glued" --date 2026-11-07`,
		Args:              wants(1, 1, "the number of a rod"),
		ValidArgsFunction: p.completeSerials,
		PreRunE: func(*cobra.Command, []string) error {
			if o.done == "" {
				return misuse("say what was mended with --done \"…\"")
			}
			return nil
		},
		RunE: p.onDay(&o.date, func(ctx context.Context, r *catalogue.Range, args []string, d models.Date) error {
			return p.addRepair(ctx, r, args[0], o, d)
		}),
	}
	cmd.Flags().StringVar(&o.done, "done", "", "what was mended, in a few `words`")
	cmd.Flags().StringVar(&o.date, "date", "", "the `day` it was done; today if not given")
	cmd.Flags().StringVar(&o.section, "section", "", "the `section` it was done to, by its name in the spec")
	cmd.Flags().StringVar(&o.weight, "weight", "", "the `weight` of the whole rod since, such as 166.2g")
	cmd.Flags().StringVar(&o.why, "why", "", "save it at once, for this `reason`")
	return cmd
}

func (p *program) addRepair(ctx context.Context, r *catalogue.Range, serial string, o repairOptions, d models.Date) error {
	b, err := r.Build(serial)
	if err != nil {
		return err
	}
	if d.Day.Before(b.Date.Day) {
		return misuseOf("date", "rod %s was not there on %s; it was built on %s", serial, d.Text, b.Date.Text)
	}
	if err := hasSection(r, b, o.section); err != nil {
		return err
	}
	entry := entryOf("serial", serial, "date", d.Text, "done", o.done, "section", o.section, "weight", o.weight)
	rec := record{catalogue.BuildsFile(d), "repairs", o.why, [][]models.Pair{entry}}
	state, err := addRecord(ctx, p, r, rec, models.ParseBuilds, nil)
	if err != nil {
		return err
	}
	if b, err = r.Build(serial); err != nil {
		return err
	}
	return p.show(func() object { return object{{"rod", rodOf(b, nil)}, {"file", rec.file}, {"state", orNull(state)}} }, func() {
		p.printf("the repair of %s, its %s, is in %s\n", say.English().RodName(serial), ordinal(len(b.Repairs)), rec.file)
		p.tellSaved(rec.file, state)
	})
}

// hasSection checks that a rod has a section; "" is the whole rod.
func hasSection(r *catalogue.Range, b *catalogue.Build, section string) error {
	if section == "" {
		return nil
	}
	rev, err := r.BuiltTo(b)
	if err != nil {
		return err
	}
	names := rev.Spec().SectionNames()
	if !slices.Contains(names, section) {
		return misuseOf("section", "rod %s has no section %q%s; it has %s", b.Serial, section, spelling.DidYouMean(section, names), strings.Join(names, ", "))
	}
	return nil
}

// ordinal writes a place in a row: first, second, third, 4th.
func ordinal(n int) string {
	words := []string{"first", "second", "third"}
	if n <= len(words) {
		return words[n-1]
	}
	return fmt.Sprintf("%dth", n)
}
