package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/visible"
)

func newRelease(p *program) *cobra.Command {
	var req catalogue.ReleaseRequest
	var date string
	cmd := &cobra.Command{
		Use:   "release MODEL[@REV] LABEL",
		Short: "put a saved revision on sale under a label",
		Long: `Reviews a saved revision and puts it on sale under a label of your own, such as
the year. The label stays with that revision and is never moved. A rod that is
not fit is refused unless you say why it goes on sale all the same; reservations
are told and stop nothing. In git a release is an annotated tag MODEL/LABEL that
holds the figures the rod was released with, the verdict and a checksum, so that
"rodlore check" finds what was altered since.`,
		Example: `  rodlore release skerry-10 2027
  rodlore release skerry-10@9bd2a9c1 2027-b
  rodlore release skerry-10 2027 --despite "two rings fewer, as the club asked"
  rodlore release skerry-10 2024 --date 2024-01-14
  rodlore release skerry-10 2027 --sign`,
		Args:              wants(2, 2, "a model and a label"),
		ValidArgsFunction: p.completeRelease,
		RunE: func(cmd *cobra.Command, args []string) error {
			req.Label = args[1]
			var err error
			if req.When, err = p.dated(date); err != nil {
				return err
			}
			return p.work(cmd.Context(), func(r *catalogue.Range) error {
				return p.release(cmd.Context(), r, args[0], req)
			})
		},
	}
	cmd.Flags().StringVar(&req.Despite, "despite", "", "release what is not fit, for this `reason`")
	cmd.Flags().StringVar(&date, "date", "", "the `day` it went on sale, where that is not today")
	cmd.Flags().BoolVar(&req.Sign, "sign", false, "sign the tag with the key that your git settings name")
	return cmd
}

// completeRelease offers revisions and leaves the label to the maker.
func (p *program) completeRelease(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return p.completeRevisions(cmd, args, typed)
}

func (p *program) release(ctx context.Context, r *catalogue.Range, arg string, req catalogue.ReleaseRequest) error {
	rev, err := r.FindArg(arg)
	if err != nil {
		return err
	}
	t := english(r)
	req.Word = reasonWords(t, rev.Model)
	before := rev.Label()
	signs, err := r.SignsReleases()
	if err != nil {
		return err
	}
	req.Sign = req.Sign || signs // as git is told to
	review, err := r.Release(ctx, rev, req)
	if errors.Is(err, catalogue.ErrUnsigned) {
		return fmt.Errorf("%w; release it with --sign", err)
	}
	if errors.Is(err, catalogue.ErrNotFit) {
		return refuse(arg, req.Label, req.Word, review)
	}
	if err != nil {
		return err
	}
	notFit := review.Verdict() == catalogue.NotFit
	if p.json {
		var despite any // null where it was fit
		if notFit {
			despite = req.Despite
		}
		return p.writeJSON(object{
			{"model", rev.Model}, {"revision", revisionOf(rev)}, {"verdict", review.Verdict()}, {"reasons", reasonsOf(req.Word, review)},
			{"despite", despite}, {"signed", req.Sign}, {"words", toldWords(t, rev.Tell, review.Since)},
		})
	}
	p.printf("%s %s is released: revision %s, saved on %s\n", rev.Spec().Name, req.Label, rev.ShortID(), day(rev.When))
	if before != "" {
		p.wrapped("", "note: it is the very revision that was released as "+before)
	}
	p.showVerdict(req.Word, review)
	if notFit {
		p.wrapped("", "Released all the same: "+req.Despite)
	}
	p.showWords(t, rev.Tell, review.Since)
	return nil
}

// refuse says why a rod does not go on sale, and what there is to do.
func refuse(arg, label string, word func(catalogue.Reason) string, review *catalogue.Review) error {
	text := fmt.Sprintf("%s is not released as %s, since it is not fit for it:", review.Spec().Name, label)
	for _, reason := range review.Reasons {
		if reason.Grave {
			text += "\n  " + word(reason)
		}
	}
	return fmt.Errorf("%s\n\"rodlore review %s\" has all of it; to release it all the same, give the reason with --despite \"…\"", text, visible.Arg(arg))
}
