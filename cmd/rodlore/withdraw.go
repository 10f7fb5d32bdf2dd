package main

import (
	"context"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/models"
)

func newWithdraw(p *program) *cobra.Command {
	var why string
	cmd := &cobra.Command{
		Use:   "withdraw MODEL LABEL --why REASON",
		Short: "take a release off sale",
		Long: `Takes a label that should not have been given off sale. It is written into the
model's file in notes/ and saved at once. The label stays taken and its tag as
it is, since rods and pages may name it. It is marked wherever it is shown, and
the next review is held against the release before it.`,
		Example:           `  rodlore withdraw skerry-10 2026 --why "released from the wrong draft"`,
		Args:              wants(2, 2, "a model and the label"),
		ValidArgsFunction: p.completeModels,
		RunE: func(cmd *cobra.Command, args []string) error {
			if why = strings.TrimSpace(why); why == "" {
				return misuse("say why with --why \"…\": the label stays, and people will ask")
			}
			return p.look(cmd.Context(), func(r *catalogue.Range) error { return p.withdraw(cmd.Context(), r, args[0], args[1], why) })
		},
	}
	cmd.Flags().StringVar(&why, "why", "", "the `reason`")
	return cmd
}

func (p *program) withdraw(ctx context.Context, r *catalogue.Range, model, label, why string) error {
	if err := r.Withdrawable(model, label); err != nil && !isHalfDone(r, model, label) {
		return err
	}
	rec := record{catalogue.NotesFile(model), "withdrawn", why, [][]models.Pair{entryOf("label", label, "date", day(p.now()), "why", why)}}
	state, err := addRecord(ctx, p, r, rec, models.ParseNotes, func([]models.Pair) error { return r.Withdrawable(model, label) })
	if err != nil {
		return err
	}
	rev, err := recordedNow(ctx, r, model, label)
	if err != nil {
		return err
	}
	left := ""
	if saved, err := r.Find(model, "saved"); err == nil && saved.LastRelease() != nil {
		left = saved.LastRelease().Label()
	}
	return p.show(func() object {
		return object{
			{"model", model}, {"label", label}, {"revision", revisionOf(rev)}, {"on-sale", orNull(left)}, {"file", rec.file}, {"state", state},
		}
	}, func() {
		p.wrapped("", "off sale: "+title(rev))
		if left == "" {
			p.println("no release of " + model + " is left on sale")
		} else {
			p.println("on sale is " + left)
		}
		p.tellSaved(rec.file, state)
	})
}

// isHalfDone reports whether a label was withdrawn in a file that is not saved yet,
// as a run that was ended leaves it.
func isHalfDone(r *catalogue.Range, model, label string) bool {
	rev, err := r.Recorded(model, label)
	if err != nil || !rev.IsWithdrawn(label) {
		return false
	}
	saved, err := r.IsSaved(context.Background(), catalogue.NotesFile(model))
	return err == nil && !saved
}
