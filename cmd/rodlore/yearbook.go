package main

import (
	"context"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/yearbook"
	"rodlore/catalogue/say"
)

func newYearbook(p *program) *cobra.Command {
	var opts yearbook.Options
	var out, paper string
	var all bool
	cmd := &cobra.Command{
		Use:   "yearbook YEAR",
		Short: "the workshop's record of one year",
		Long: `What happened to the range in a year, as a table. The whole book, with --all or
in a file, has of every model the releases with what changed, why, what it did
and what a customer sees of it; prototypes under way; rods built and their
weights, repairs and what customers said; parts and materials that changed; and,
in a line each, the models that did not change.

A save is of the year that its own clock showed, a release of the year in which
it was made. What is edited and not saved stands in the book of this year.

With --out the book is written into a file, whose name says the form: .html to
look at, .pdf to print, .md as plain text. Faults in files do not stop it; they
are listed at its end.`,
		Example: `  rodlore yearbook 2026
  rodlore yearbook 2026 --all
  rodlore yearbook 2026 --out 2026.pdf`,
		Args: wants(1, 1, "one year"),
		RunE: func(cmd *cobra.Command, args []string) error {
			var err error
			if opts.Paper, err = paperOf(paper); err != nil {
				return err
			}
			year, err := yearOf(args[0])
			if err != nil {
				return err
			}
			opts.Now, opts.Short = p.now(), out == "" && !all
			return p.look(cmd.Context(), func(r *catalogue.Range) error {
				r.ReadOnce()
				return p.yearbook(cmd.Context(), r, year, opts, out)
			})
		},
	}
	cmd.Flags().BoolVar(&all, "all", false, "show the whole book, not its table alone")
	cmd.Flags().StringVar(&out, "out", "", "the `file` to write: .html, .pdf or .md")
	paperFlag(cmd, &paper)
	return cmd
}

// yearOf is the year that was typed.
func yearOf(arg string) (int, error) {
	if _, err := time.Parse("2006", arg); err != nil {
		return 0, misuse("%q is no year such as 2026", arg)
	}
	return strconv.Atoi(arg)
}

func (p *program) yearbook(ctx context.Context, r *catalogue.Range, number int, opts yearbook.Options, out string) error {
	var err error
	if out != "" {
		if out, err = p.outFile(out, strconv.Itoa(number)); err != nil {
			return err
		}
	}
	y, err := r.Year(ctx, number, opts.Now)
	if err != nil {
		return err
	}
	if p.json && out == "" {
		return p.writeJSON(yearOfRange(english(r), y, nil))
	}
	if out == "" {
		opts.Words = say.English()
	}
	opts.Print = formOf(out) == ".pdf"
	book, err := yearbook.Of(r, y, opts)
	if err != nil {
		return err
	}
	if out != "" {
		written, err := p.writeForm(book, out, formOf(out))
		if err != nil {
			return err
		}
		return p.show(func() object { return yearOfRange(english(r), y, []object{written}) }, func() { p.println("wrote " + out) })
	}
	p.remarked = true
	p.showDocument(book)
	if opts.Short {
		p.paragraph("--all shows what changed, and why, model by model; --out writes it into a file")
	}
	return nil
}

// yearOfRange is what yearbook prints.
func yearOfRange(t say.Teller, y *catalogue.Year, files []object) object {
	n := y.Counts()
	models := func(list []*catalogue.ModelYear) []object {
		return say.Each(list, func(m *catalogue.ModelYear) object { return modelYear(t, m) })
	}
	begun := ""
	if y.Begun != nil {
		begun = y.Begun.Day()
	}
	return object{
		{"year", y.Number},
		{"begun", orNull(begun)}, // the day of the range's first save; null before it
		{"counts", object{{"releases", n.Releases}, {"prototypes", n.Prototypes}, {"rods", n.Rods}, {"repairs", n.Repairs}, {"remarks", n.Remarks}}},
		{"models", models(y.Models)},   // that something became of
		{"unchanged", models(y.Quiet)}, // the others
		{"stock", say.Each(y.Stock, func(e catalogue.StockEdit) object { // saved changes of parts and materials, oldest first
			return object{{"date", e.State.When}, {"why", e.State.Why()}, {"file", e.File}, {"changes", changesOf(e.Changes)}}
		})},
		{"signals", signalsJSON(y.Chart, y.Signals())}, // of the control chart of all rods, that reach into the year
		{"notes", told(t, y.Notes)},
		{"files", files},
	}
}

// modelYear is one model in one year.
func modelYear(t say.Teller, m *catalogue.ModelYear) object {
	return object{
		{"model", m.Model}, {"name", m.Name()},
		{"stood", revisionOf(m.Stood)}, // when the year ended; null where it was not there
		{"label", orNull(m.Label)},     // of what was on sale then
		{"ahead", m.Ahead},             // it stood as a prototype
		{"began", m.Began},
		{"renamed", say.Each(m.Renamed(), func(rev *catalogue.Revision) object {
			return object{{"date", rev.When}, {"old", rev.Before.FileName()}, {"new", rev.FileName()}}
		})},
		{"taken-out", outOf(m.Gone)},
		{"releases", say.Each(m.Releases, func(i *catalogue.Issue) object { // oldest first
			return object{
				{"label", i.Label}, {"released", i.When},
				{"since", orNull(i.Since)}, // label of the release before it
				{"again", orNull(i.Again)}, // label of an earlier release that was the same rod
				{"made", madeOf(i.Made)},   // since then, oldest first
				{"step", stepOf(t, i.Step)},
			}
		})},
		{"prototypes", madeOf(m.Prototypes)}, // saved in the year and not on sale when it ended
		{"under-way", underWay(t, m.UnderWay)},
		{"same-rod", besidesOf(m.Besides)}, // saved in the year, oldest first
		{"rods", rodsOf(m.Rods, m.Weighings)},
		{"repairs", say.Each(m.Repairs, func(r catalogue.Mending) object {
			return append(object{{"serial", r.Serial.Text}}, repairOf(r.Repair)...)
		})},
		{"heard", remarksOf(m.Heard)},
	}
}

// madeOf are saved revisions and why each was made.
func madeOf(revs []*catalogue.Revision) []object {
	return say.Each(revs, func(rev *catalogue.Revision) object {
		return object{{"id", rev.ID}, {"date", rev.When}, {"why", rev.Why}}
	})
}

// underWay is what was made since the last release and is not on sale.
func underWay(t say.Teller, u *catalogue.Trial) object {
	if u == nil {
		return nil
	}
	return object{
		{"since", orNull(u.Since)}, // label of that release
		{"saved", madeOf(u.Saved)}, // in the year, oldest first
		{"newest", stepOf(t, u.Newest)}, {"draft", stepOf(t, u.Draft)},
	}
}
