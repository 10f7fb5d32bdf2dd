package main

import (
	"context"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
)

func newRelease(p *program) *cobra.Command {
	return &cobra.Command{
		Use:   "release MODEL[@REV] LABEL",
		Short: "put a saved revision on sale under a label",
		Long: `Puts a saved revision on sale under a label of your own, such as the year. The
label stays with that revision and is never moved. In git it is an annotated
tag MODEL/LABEL that holds the figures the rod was released with.`,
		Example: `  rodlore release skerry-10 2027
  rodlore release skerry-10@9bd2a9c1 2027-b`,
		Args:              wants(2, 2, "a model and a label"),
		ValidArgsFunction: p.completeRelease,
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.work(cmd.Context(), func(r *catalogue.Range) error {
				return p.release(cmd.Context(), r, args[0], args[1])
			})
		},
	}
}

// completeRelease offers revisions and leaves the label to the maker.
func (p *program) completeRelease(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return p.completeRevisions(cmd, args, typed)
}

// releasedJSON is what release prints.
type releasedJSON struct {
	schema
	Model    string       `json:"model"`
	Revision revisionJSON `json:"revision"`
}

func (p *program) release(ctx context.Context, r *catalogue.Range, arg, label string) error {
	rev, err := r.FindArg(arg)
	if err != nil {
		return err
	}
	if err := r.Release(ctx, rev, label, "", p.now()); err != nil {
		return err
	}
	if p.json {
		return p.writeJSON(releasedJSON{schema1, rev.Model, revisionOf(rev)})
	}
	p.printf("%s %s is released: revision %s, saved on %s\n", rev.Spec.Name, label, rev.ShortID(), day(rev.When))
	return nil
}
