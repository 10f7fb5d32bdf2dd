package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/models"
)

func newReword(p *program) *cobra.Command {
	var why, tell string
	cmd := &cobra.Command{
		Use:   "reword MODEL@REV [--why REASON] [--tell WORDS]",
		Short: "correct a reason or words for customers afterwards",
		Long: `Gives a saved revision another reason, or other words for customers, in place of
what was said when it was saved. It is written into the model's file in notes/
and saved at once. The saved state and its tags stay as they are, and history
says when it was reworded.`,
		Example: `  rodlore reword skerry-10@2024 --tell "Casts a touch lighter."
  rodlore reword skerry-10@2024 --why "the butt ring slapped at 620 mm"`,
		Args:              wants(1, 1, "a model with the revision, such as skerry-10@2024"),
		ValidArgsFunction: p.completeRevisions,
		PreRunE: func(*cobra.Command, []string) error {
			why, tell = strings.TrimSpace(why), strings.TrimSpace(tell)
			if why == "" && tell == "" {
				return misuse("say what is right with --why \"…\", --tell \"…\" or both")
			}
			return nil
		},
		RunE: p.inRange(func(ctx context.Context, r *catalogue.Range, args []string) error {
			return p.reword(ctx, r, args[0], why, tell)
		}),
	}
	cmd.Flags().StringVar(&why, "why", "", "the `reason` as it should have been")
	cmd.Flags().StringVar(&tell, "tell", "", "the `words` for customers as they should have been")
	return cmd
}

func (p *program) reword(ctx context.Context, r *catalogue.Range, arg, why, tell string) error {
	rev, err := r.FindArg(arg)
	if err != nil {
		return err
	}
	if rev.State == "" {
		return fmt.Errorf("%s is not saved, so that nothing is said of it yet; name a saved revision, such as %s@saved", arg, rev.Model)
	}
	state, err := p.addWords(ctx, r, rev, "reworded", day(p.now()), why, tell, "reworded: "+rev.Model+" "+notedAs(r, rev))
	if err != nil {
		return err
	}
	file := catalogue.NotesFile(rev.Model)
	if rev, err = recordedNow(ctx, r, rev.Model, rev.State); err != nil {
		return err
	}
	return p.show(func() object {
		return object{
			{"model", rev.Model}, {"revision", revisionOf(rev)}, {"why", orNull(rev.Why)}, {"tell", orNull(rev.Tell)}, {"file", file}, {"state", state},
		}
	}, func() {
		p.wrapped("", "reworded in "+file+": "+title(rev))
		if tell != "" {
			p.wrapped("", "customers read: “"+reflow(rev.Tell)+"”")
		}
		p.tellSaved(file, state)
	})
}

// recordedNow reads the history anew and gives a revision as it is told now.
func recordedNow(ctx context.Context, r *catalogue.Range, model, name string) (*catalogue.Revision, error) {
	if err := r.Refresh(ctx); err != nil {
		return nil, err
	}
	return r.Recorded(model, name)
}

// notedAs is how a note names a revision: by its label where that means this very
// save, else by the saved state, since one rod may have been saved twice.
func notedAs(r *catalogue.Range, rev *catalogue.Revision) string {
	if named, err := r.Recorded(rev.Model, rev.Label()); rev.Label() != "" && err == nil && named.State == rev.State {
		return rev.Label()
	}
	return rev.State[:12]
}

// addWords writes words about a revision into a list of the model's notes and saves
// them. Words that stand there already are not written again.
func (p *program) addWords(ctx context.Context, r *catalogue.Range, rev *catalogue.Revision, list, date, why, tell, reason string) (state string, err error) {
	entry := entryOf("release", notedAs(r, rev), "date", date, "why", why, "tell", tell)
	rec := record{catalogue.NotesFile(rev.Model), list, reason, [][]models.Pair{entry}}
	return addRecord(ctx, p, r, rec, models.ParseNotes, func(entry []models.Pair) error {
		src, err := p.files().Read(rec.file)
		if err == nil && models.Holds(src, entry) {
			return fmt.Errorf("%s says so already: %w", rec.file, catalogue.ErrUnchanged)
		}
		return nil
	})
}
