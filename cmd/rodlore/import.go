package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/oldnotes"
	"rodlore/catalogue/working"
	"rodlore/models"
)

type importOptions struct {
	columns, ignore []string
	unit            string
	dryRun          bool
}

func newImport(p *program) *cobra.Command {
	var o importOptions
	var example bool
	cmd := &cobra.Command{
		Use:   "import MODEL FILE|FOLDER",
		Short: "make a history of old notes: ring places by year, or dated copies",
		Long: `Makes a history of what you noted before: each row of a table, or each dated
copy of a spec in a folder, becomes a saved revision with its day and its
reason, and a release where it has a label. If anything cannot be read,
nothing is written.

A table is CSV, as every spreadsheet exports it; its first line names the
columns:
  release   the label it was sold under; empty where it was not on sale
  date      the day, the month or the year; without it the release is the year
  why, tell the reason, and words for customers
  ring 1 …  places from the tip; a tip ring at 0 may be left out
  part 1 …  the parts, where they are not those of the model's spec
  rings     all places in one cell, instead of ring 1 …
  spec      a file with a copy of the whole spec, instead of rings
Rings stand on the blank and handle of the model's spec as it is now. Columns
with other names are mapped ("Jahr=date", "R*=ring *") or passed over.

Copies in a folder have the day in their names: gull-9-2019.yaml (a release) or
2021-03-14.yaml. The comment that a copy begins with is its reason.`,
		Example: `  rodlore import --example > notes.csv
  rodlore import gull-9 notes.csv --dry-run
  rodlore import gull-9 notes.csv --column "Jahr=date" --column "R*=ring *"
  rodlore import gull-9 old-specs/`,
		Args: func(cmd *cobra.Command, args []string) error {
			if example {
				return wants(0, 0, "nothing beside --example")(cmd, args)
			}
			return wants(2, 2, "a model and a file or folder of notes")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if example {
				p.printf("%s", oldnotes.Example)
				return nil
			}
			if !catalogue.ModelRule.MatchString(args[0]) {
				return misuse("model %q: use small letters, digits and dashes, such as skerry-10", args[0])
			}
			return p.importNotes(cmd.Context(), args[0], args[1], o)
		},
	}
	cmd.Flags().StringArrayVar(&o.columns, "column", nil, "what a column of the file is, `THEIRS=OURS`")
	cmd.Flags().StringArrayVar(&o.ignore, "ignore", nil, "a `column` to pass over")
	cmd.Flags().StringVar(&o.unit, "unit", "", "the `unit` of places without one: mm, cm or in (default: as range.yaml shows)")
	cmd.Flags().BoolVar(&o.dryRun, "dry-run", false, "show what was understood, and save nothing")
	cmd.Flags().BoolVar(&example, "example", false, "print a table to begin with")
	return cmd
}

// importNotes reads notes and, unless it is a dry run, enters them.
func (p *program) importNotes(ctx context.Context, model, path string, o importOptions) error {
	var noted []catalogue.Noted
	var states []string
	err := p.work(ctx, func(r *catalogue.Range) (err error) {
		if noted, err = p.understand(r, model, path, o); err != nil || o.dryRun {
			return err
		}
		if states, err = r.Enter(ctx, model, noted, p.now()); err != nil {
			return err
		}
		if r.Missing(model) {
			return p.files().Create("models/"+model+".yaml", noted[len(noted)-1].Text)
		}
		return nil
	})
	if err != nil {
		return err
	}
	if err := p.putOnSale(ctx, model, noted, states); err != nil {
		return err
	}
	return p.show(func() object { return importOf(model, noted, states) }, func() { p.showNoted(model, path, noted, o) })
}

// understand reads a file or a folder of notes as rods of a model.
func (p *program) understand(r *catalogue.Range, model, path string, o importOptions) ([]catalogue.Noted, error) {
	set, err := r.Settings()
	if err != nil {
		return nil, err
	}
	options, err := p.notesOptions(set, path, o)
	if err != nil {
		return nil, err
	}
	entries, wrong := readNotes(p.at(path), path, options)
	if wrong != nil && len(entries) == 0 {
		return nil, wrong
	}
	noted, err := r.Understand(model, entries)
	return noted, models.Together(wrong, err)
}

func (p *program) notesOptions(set *models.Settings, path string, o importOptions) (oldnotes.Options, error) {
	options := oldnotes.Options{Columns: map[string]string{}, Ignore: o.ignore, Unit: o.unit, Now: p.now()}
	for _, c := range o.columns {
		theirs, ours, ok := strings.Cut(c, "=")
		if !ok || theirs == "" || ours == "" {
			return options, misuse("--column %q: write it as THEIRS=OURS, such as Jahr=date", c)
		}
		options.Columns[theirs] = ours
	}
	if !slices.Contains([]string{"", "mm", "cm", "in"}, o.unit) {
		return options, misuse("--unit %q: mm, cm and in are known", o.unit)
	}
	options.Unit = cmp.Or(o.unit, map[string]string{"imperial": "in"}[set.Units], "mm")
	folder := filepath.Dir(path)
	options.Open = func(name string) ([]byte, error) {
		if !filepath.IsAbs(name) && !strings.HasPrefix(name, folder) {
			name = filepath.Join(folder, name)
		}
		return readSmall(p.at(name))
	}
	return options, nil
}

// readNotes reads a table, or the copies in a folder. name is the path as it is
// told of.
func readNotes(path, name string, o oldnotes.Options) ([]oldnotes.Entry, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.IsDir() {
		src, err := readSmall(path)
		if err != nil {
			return nil, err
		}
		return oldnotes.Table(filepath.ToSlash(name), src, o)
	}
	found, err := os.ReadDir(path)
	if err != nil {
		return nil, err
	}
	var copies []string
	for _, f := range found {
		if f.Type().IsRegular() && filepath.Ext(f.Name()) == ".yaml" {
			copies = append(copies, filepath.ToSlash(filepath.Join(name, f.Name())))
		}
	}
	if len(copies) == 0 {
		return nil, fmt.Errorf("%s holds no copy of a spec; they end in .yaml and have the day in their names", name)
	}
	return oldnotes.Copies(copies, o)
}

// readSmall reads an ordinary file of at most 1 MiB.
func readSmall(path string) ([]byte, error) {
	src, err := working.ReadFile(path)
	switch {
	case errors.Is(err, working.ErrUnusable):
		return nil, fmt.Errorf("it %w", working.ErrUnusable)
	case len(src) == working.MostBytes:
		return nil, fmt.Errorf("it has more than %d bytes", working.MostBytes-1)
	}
	return src, errors.Unwrap(err)
}

// putOnSale gives the entries their labels. A label that was given already is
// passed over.
func (p *program) putOnSale(ctx context.Context, model string, noted []catalogue.Noted, states []string) error {
	for i, n := range noted {
		if n.Label.Text == "" || len(states) == 0 {
			continue
		}
		// Each release says which one it follows, so each looks afresh.
		err := p.work(ctx, func(r *catalogue.Range) error {
			rev, err := r.At(model, states[i])
			if err != nil || slices.Contains(rev.Labels, n.Label.Text) {
				return err
			}
			_, err = r.Release(ctx, rev, catalogue.ReleaseRequest{Label: n.Label.Text, When: n.Day, Despite: "entered from old notes"})
			return err
		})
		if err != nil {
			return fmt.Errorf("%s: %w", n.Pos, err)
		}
	}
	return nil
}

// importOf is what import prints; the states are nil for a dry run.
func importOf(model string, noted []catalogue.Noted, states []string) object {
	var entries []object
	for i, n := range noted {
		var state any
		if states != nil {
			state = states[i]
		}
		var rings []object
		for k, ring := range n.Spec.Rings {
			rings = append(rings, object{
				{"at", float64(ring.At.Value)}, {"part", ring.Part.Text},
				{"assumed", slices.Contains(n.Assumed, k)}, // the part is not noted
			})
		}
		entries = append(entries, object{
			{"place", n.Pos.String()}, // where it is noted
			{"date", day(n.Day)},
			{"exact", n.Exact}, // the day is noted, not only the month or year
			{"release", orNull(n.Label.Text)}, {"why", n.Why}, {"tell", orNull(n.Tell)}, {"rings", rings},
			{"same", n.Same}, // as the entry before
			{"already", n.State != ""}, {"state", state},
		})
	}
	return object{{"model", model}, {"saved", states != nil}, {"entries", entries}}
}

// showNoted tells each entry as it was understood.
func (p *printer) showNoted(model, path string, noted []catalogue.Noted, o importOptions) {
	marked, there := false, 0
	for _, n := range noted {
		p.println(strings.TrimSpace(day(n.Day) + "  " + n.Label.Text))
		p.wrapped("  ", n.Why)
		if n.Tell != "" {
			p.wrapped("  ", "“"+n.Tell+"”")
		}
		switch {
		case n.State != "":
			p.println("  saved already")
			there++
		case n.Same:
			p.println("  the same rod as before")
		default:
			var rings []string
			for k, ring := range n.Spec.Rings {
				text := ring.At.Text + " " + ring.Part.Text
				if slices.Contains(n.Assumed, k) {
					text += "*"
					marked = true
				}
				rings = append(rings, text)
			}
			p.wrapped("  ", strings.Join(rings, ", "))
		}
	}
	if marked {
		p.paragraph("* the part is not noted; it is that of the model's spec in that place")
	}
	p.println()
	if o.dryRun {
		p.println(count(len(noted), "note") + " understood, nothing saved; leave --dry-run out to save them")
		return
	}
	entered := "entered " + count(len(noted)-there, "note") + " of " + path
	if there > 0 {
		entered += fmt.Sprintf(", besides %d that had been entered", there)
	}
	p.println(entered + "; look at it:")
	p.println("  rodlore history " + model)
}
