package main

import (
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
)

// completeModels offers the range's models to the shell.
func (p *program) completeModels(cmd *cobra.Command, taken []string, _ string) ([]string, cobra.ShellCompDirective) {
	var offers []string
	err := p.look(cmd.Context(), func(r *catalogue.Range) error {
		names, err := r.Models()
		for _, name := range names {
			offers = append(offers, cobra.CompletionWithDesc(name, modelWords(r, name)))
		}
		return err
	})
	if err != nil {
		return nil, cobra.ShellCompDirectiveError
	}
	return offers, cobra.ShellCompDirectiveNoFileComp
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
	var offers []string
	err := p.look(cmd.Context(), func(r *catalogue.Range) error {
		offers = append(offers,
			cobra.CompletionWithDesc(model+"@draft", "the file as it stands"),
			cobra.CompletionWithDesc(model+"@saved", "as it was saved last"))
		revs, err := r.Revisions(model)
		for _, rev := range revs {
			for _, label := range rev.Labels {
				offers = append(offers, cobra.CompletionWithDesc(model+"@"+label, revisionWords(rev)))
			}
		}
		for _, rev := range revs {
			if len(rev.Labels) == 0 {
				offers = append(offers, cobra.CompletionWithDesc(model+"@"+rev.ShortID(), revisionWords(rev)))
			}
		}
		return err
	})
	if err != nil {
		return nil, cobra.ShellCompDirectiveError
	}
	return offers, cobra.ShellCompDirectiveNoFileComp
}

func modelWords(r *catalogue.Range, name string) string {
	rev, err := r.Draft(name)
	if err != nil {
		return ""
	}
	return title(rev)
}

// revisionWords are the day and the first line of the reason.
func revisionWords(rev *catalogue.Revision) string {
	reason, _, _ := strings.Cut(rev.Why, "\n")
	return day(rev.When) + " " + reason
}
