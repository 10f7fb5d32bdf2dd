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

// yearbookOptions are the options of yearbook as typed.
type yearbookOptions struct {
	all        bool
	out, paper string
}

func newYearbook(p *program) *cobra.Command {
	var o yearbookOptions
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
			_, err := paperOf(o.paper)
			if err != nil {
				return err
			}
			year, err := yearOf(args[0])
			if err != nil {
				return err
			}
			return p.look(cmd.Context(), func(r *catalogue.Range) error {
				r.ReadOnce()
				return p.yearbook(cmd.Context(), r, year, o)
			})
		},
	}
	cmd.Flags().BoolVar(&o.all, "all", false, "show the whole book, not its table alone")
	cmd.Flags().StringVar(&o.out, "out", "", "the `file` to write: .html, .pdf or .md")
	paperFlag(cmd, &o.paper)
	return cmd
}

// yearOf is the year that was typed.
func yearOf(arg string) (int, error) {
	if _, err := time.Parse("2006", arg); err != nil {
		return 0, misuse("%q is no year such as 2026", arg)
	}
	return strconv.Atoi(arg)
}

func (p *program) yearbook(ctx context.Context, r *catalogue.Range, number int, o yearbookOptions) error {
	file := ""
	if o.out != "" {
		var err error
		if file, err = p.outFile(o.out, strconv.Itoa(number)); err != nil {
			return err
		}
	}
	y, err := r.Year(ctx, number, p.now())
	if err != nil {
		return err
	}
	var files []object
	if file != "" {
		written, err := p.writeYearbook(r, y, file, o)
		if err != nil {
			return err
		}
		files = append(files, written)
	}
	switch {
	case p.json:
		return p.writeJSON(yearOfRange(english(r), y, files))
	case file != "":
		p.println("wrote " + file)
		return nil
	}
	p.remarked = true
	book, err := yearbook.Of(r, y, yearbook.Options{Now: p.now(), Words: say.English(), Short: !o.all})
	if err != nil {
		return err
	}
	p.showDocument(book)
	if !o.all {
		p.paragraph("--all shows what changed, and why, model by model; --out writes it into a file")
	}
	return nil
}

// writeYearbook writes the book of a year into a file.
func (p *program) writeYearbook(r *catalogue.Range, y *catalogue.Year, file string, o yearbookOptions) (object, error) {
	opts := yearbook.Options{Now: p.now(), Print: formOf(file) == ".pdf"}
	var err error
	if opts.Paper, err = paperOf(o.paper); err != nil {
		return nil, err
	}
	d, err := yearbook.Of(r, y, opts)
	if err != nil {
		return nil, err
	}
	return p.writeDocument(d, file)
}
