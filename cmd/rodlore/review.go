package main

import (
	"context"
	"slices"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/review"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/models"
)

func newReview(p *program) *cobra.Command {
	var o reviewOptions
	cmd := &cobra.Command{
		Use:   "review MODEL[@REV]",
		Short: "whether a revision may go on sale",
		Long: `Holds a revision against what its spec wants, the last release, the strength of
its blank, the path of its line, what was measured of it and what was checked by
hand, and says whether it is fit, fit with reservations or not fit, and why;
--all shows what it was held against, with the list of what to check by hand.

Not fit: fewer than half of the rods built to it would meet a want; a customer
would see a step over its limit for one release; the line lies on the blank
though the reel hangs below; the blank's estimated limit is under the test
curve.

Reservations: fewer than 19 rods in 20 would meet a want; no wants; the line
lies on the blank of a rod with its reel on top; one ring bends the line twice
as much as the mean; the limit is less than a quarter above the test curve; the
line breaks at half as much again as the limit with the rod held low; no
strength of line or material is known; a reading is far off its figure or not
what is wanted; nothing was measured; checks by hand are not ticked; not saved;
no reason, no words for customers, a part without price.

Ticks are kept in reviews/MODEL.yaml and count for the very revision they were
given on. More checks of your own go under "by hand:" in range.yaml.`,
		Example: `  rodlore review skerry-10
  rodlore review skerry-10 --all
  rodlore review skerry-10@2026 --html review.html
  rodlore review skerry-10 --tick feet --tick "tip ring" --by MK`,
		Args:              wants(1, 1, "one model"),
		ValidArgsFunction: p.completeRevisions,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.check(); err != nil {
				return err
			}
			if len(o.ticks) > 0 {
				return p.tick(cmd.Context(), args[0], o)
			}
			return p.review(cmd.Context(), args[0], o)
		},
	}
	cmd.Flags().BoolVar(&o.all, "all", false, "show all that was looked at, not the verdict and its reasons alone")
	cmd.Flags().StringVar(&o.html, "html", "", "write the review into this `file`, a page for a browser or the printer")
	cmd.Flags().StringVar(&o.markdown, "markdown", "", "write the review into this `file` as Markdown")
	cmd.Flags().StringArrayVar(&o.ticks, "tick", nil, "tick the `check` by hand, by its name; may be given again")
	cmd.Flags().StringVar(&o.by, "by", "", "the `initials` of whoever checked")
	cmd.Flags().StringVar(&o.date, "date", "", "the `day` of the check, such as 2026-11-07; today if not given")
	cmd.Flags().StringVar(&o.why, "why", "", "save the ticks at once, for this `reason`")
	return cmd
}

type reviewOptions struct {
	all            bool
	html, markdown string
	ticks          []string
	by, date, why  string
}

func (o reviewOptions) check() error {
	switch {
	case len(o.ticks) == 0 && o.by+o.date+o.why != "":
		return misuse("--by, --date and --why go with --tick")
	case len(o.ticks) > 0 && o.by == "":
		return misuse("say with --by whose eye it was: initials will do")
	case len(o.ticks) > 0 && o.html+o.markdown != "":
		return misuse("--tick writes no page; review once more for that")
	}
	return nil
}

func (p *program) review(ctx context.Context, arg string, o reviewOptions) error {
	return p.look(ctx, func(r *catalogue.Range) error {
		rev, err := r.FindArg(arg)
		if err != nil {
			return err
		}
		v, err := r.Review(ctx, rev)
		if err != nil {
			return err
		}
		t := telling.Teller{Teller: english(r)}
		if o.html+o.markdown != "" { // a page speaks the words of the range
			if t, err = telling.New(r); err != nil {
				return err
			}
		}
		doc := review.Page(t.Teller, v, review.Options{Day: p.now(), Word: reasonWords(t.Teller, rev.Model)})
		written, err := p.writePages(doc, o)
		if err != nil {
			return err
		}
		if err := p.showReview(r, v, doc, written, o.all); err != nil {
			return err
		}
		if v.Verdict() == catalogue.NotFit {
			return errNo
		}
		return nil
	})
}

func (p *program) showReview(r *catalogue.Range, v *catalogue.Review, doc *document.Document, written []string, all bool) error {
	t := english(r)
	return p.show(func() object { return reviewOf(t, v, written) }, func() {
		if all {
			p.showDocument(doc)
			p.showNotes(figureNotes(t, v.Figures, v.Measured))
		} else {
			p.println(p.paint(bold, doc.Title))
			p.showVerdict(reasonWords(t, v.Model), v)
			p.showWords(t, v.Tell, v.Since)
		}
		for _, file := range written {
			p.println("wrote " + file)
		}
		if len(written) == 0 && !all {
			p.paragraph("--all shows what it was held against, and what to check by hand")
		}
	})
}

// showVerdict prints the verdict and its reasons.
func (p *printer) showVerdict(word func(catalogue.Reason) string, v *catalogue.Review) {
	p.println("Verdict: " + string(v.Verdict()))
	t := newTable(words(""), filling(""))
	for _, r := range v.Reasons {
		t.add(say.English().Gravity(r), word(r))
	}
	p.print("  ", t)
}

// writePages writes the pages that are wanted, each whole or not at all, and
// lists them.
func (p *program) writePages(doc *document.Document, o reviewOptions) (written []string, err error) {
	for _, page := range [][2]string{{o.html, ".html"}, {o.markdown, ".md"}} {
		if page[0] == "" {
			continue
		}
		if _, err := p.writeForm(doc, page[0], page[1]); err != nil {
			return written, err
		}
		written = append(written, page[0])
	}
	return written, nil
}

// tick ticks checks by hand of a revision.
func (p *program) tick(ctx context.Context, arg string, o reviewOptions) error {
	on, err := p.dayOf(o.date)
	if err != nil {
		return err
	}
	return p.look(ctx, func(r *catalogue.Range) error {
		rev, err := r.FindArg(arg)
		if err != nil {
			return err
		}
		file := catalogue.ReviewFile(rev.Model)
		var checks []string
		var ticks [][]models.Pair
		for _, check := range o.ticks {
			if !slices.Contains(checks, check) {
				checks = append(checks, check)
				ticks = append(ticks, entryOf("check", check, "revision", rev.ShortID(), "date", on.Text, "by", o.by))
			}
		}
		state, err := addRecord(ctx, p, r, record{file, "ticked", o.why, ticks}, models.ParseReviews, func(entry []models.Pair) error {
			return r.Tickable(rev, entry[0].Value)
		})
		if err != nil {
			return err
		}
		return p.show(func() object {
			return object{{"model", rev.Model}, {"revision", revisionOf(rev)}, {"ticked", checks}, {"file", file}, {"state", orNull(state)}}
		}, func() {
			p.println(count(len(checks), "check") + " of revision " + rev.ShortID() + " ticked in " + file)
			p.tellSaved(file, state)
		})
	})
}
