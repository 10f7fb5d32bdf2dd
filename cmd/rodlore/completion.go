package main

import (
	"context"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
)

// completeModels offers the range's models to the shell.
func (p *program) completeModels(cmd *cobra.Command, taken []string, _ string) ([]string, cobra.ShellCompDirective) {
	return p.offers(cmd.Context(), func(r *catalogue.Range, offer func(word, what string)) error {
		names, err := r.Models()
		for _, name := range names {
			what := ""
			if rev, err := r.Draft(name); err == nil {
				what = title(rev)
			}
			offer(name, what)
		}
		return err
	})
}

// offers are what gather offers to the shell from a range.
func (p *program) offers(ctx context.Context, gather func(r *catalogue.Range, offer func(word, what string)) error) ([]string, cobra.ShellCompDirective) {
	var offers []string
	err := p.look(ctx, func(r *catalogue.Range) error {
		return gather(r, func(word, what string) { offers = append(offers, cobra.CompletionWithDesc(word, what)) })
	})
	if err != nil {
		return nil, cobra.ShellCompDirectiveError
	}
	return offers, cobra.ShellCompDirectiveNoFileComp
}

// completeRods offers what completeRevisions does, and the other tops that go on
// each.
func (p *program) completeRods(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	offers, directive := p.completeRevisions(cmd, args, typed)
	if isPath(typed) || directive == cobra.ShellCompDirectiveError {
		return offers, directive
	}
	tops, _ := p.offers(cmd.Context(), func(r *catalogue.Range, offer func(word, what string)) error {
		rod, _, _ := strings.Cut(typed, "+")
		model, asked, isRevision := strings.Cut(rod, "@")
		names, err := r.Models()
		for _, name := range names {
			rev, err := r.Find(name, asked)
			if isRevision && name != model || err != nil {
				continue // of this one alone; one that there is not has no tops
			}
			for _, top := range rev.Tops() {
				offer(name+strings.TrimPrefix(rod, model)+"+"+top.Top, title(top))
			}
		}
		return err
	})
	return append(offers, tops...), directive
}

// completeRevisions offers models, and behind an @ the revisions of one.
func (p *program) completeRevisions(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	model, _, isRevision := strings.Cut(typed, "@")
	switch {
	case isPath(typed):
		return nil, cobra.ShellCompDirectiveDefault
	case !isRevision:
		offers, directive := p.completeModels(cmd, args, typed)
		return offers, directive | cobra.ShellCompDirectiveNoSpace
	}
	return p.offers(cmd.Context(), func(r *catalogue.Range, offer func(word, what string)) error {
		offer(model+"@draft", "the file as it stands")
		offer(model+"@saved", "as it was saved last")
		revs, err := r.Revisions(model)
		for _, rev := range revs {
			for _, label := range rev.Labels {
				offer(model+"@"+label, revisionWords(rev))
			}
		}
		for _, rev := range revs {
			if len(rev.Labels) == 0 {
				offer(model+"@"+rev.ShortID(), revisionWords(rev))
			}
		}
		return err
	})
}

// revisionWords are the day and the first line of the reason.
func revisionWords(rev *catalogue.Revision) string {
	reason, _, _ := strings.Cut(rev.Why, "\n")
	return day(rev.When) + " " + reason
}
