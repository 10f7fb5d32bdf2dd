package main

import (
	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
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
