package main

import (
	"github.com/spf13/cobra"

	"rodlore/catalogue"
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
