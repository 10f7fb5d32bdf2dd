package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/models"
)

// buildOptions are what is written down of a new rod, as it was typed.
type buildOptions struct {
	serial, date, weight, testCurve, blank, note, why string
}

func newBuiltAdd(p *program) *cobra.Command {
	var o buildOptions
	cmd := &cobra.Command{
		Use:   "add MODEL[+TOP]@LABEL --serial NUMBER",
		Short: "write down a rod that was built",
		Long: `Writes down a rod: its serial number, the revision it was built to, the day, and
what it weighed and pulled. The entry goes to the end of the file of builds/ for
that year. With --why it is saved at once. A number is given once.
MODEL+TOP is a rod with another of the model's tops on it, weighed with that.`,
		Example: `  rodlore built add skerry-10@2026 --serial 0148 --weight 166.2g
  rodlore built add rill-7@2026 --serial 0149 --date 2026-11-07 --why "rod 0149"`,
		Args:              wants(1, 1, "the revision that it was built to"),
		ValidArgsFunction: p.completeRelease,
		RunE: p.onDay(&o.date, func(ctx context.Context, r *catalogue.Range, args []string, d models.Date) error {
			return p.addBuild(ctx, r, args[0], o, d)
		}),
	}
	cmd.Flags().StringVar(&o.serial, "serial", "", "the `number` of the rod")
	cmd.Flags().StringVar(&o.date, "date", "", "the `day` it was finished; today if not given")
	cmd.Flags().StringVar(&o.weight, "weight", "", "its `weight` without a reel, such as 166.2g")
	cmd.Flags().StringVar(&o.testCurve, "test-curve", "", "the `load` that pulls its tip square to your eye, such as 1.4lb")
	cmd.Flags().StringVar(&o.blank, "blank", "", "the `batch` of its blank")
	cmd.Flags().StringVar(&o.note, "note", "", "anything else of it, in a few `words`")
	cmd.Flags().StringVar(&o.why, "why", "", "save it at once, for this `reason`")
	return cmd
}

func (p *program) addBuild(ctx context.Context, r *catalogue.Range, arg string, o buildOptions, d models.Date) error {
	of, top := r.CutTop(arg)
	rev, err := savedRevision(r, of)
	if err != nil {
		return err
	}
	if top != "" {
		if rev, err = rev.With(top); err != nil {
			return err
		}
	}
	if o.serial = strings.TrimSpace(o.serial); o.serial == "" {
		return offerSerial(r)
	}
	_, asked, _ := strings.Cut(of, "@")
	rec := record{catalogue.BuildsFile(d), "built", o.why, [][]models.Pair{entryOf(
		"serial", o.serial, "model", rev.Model, "release", recordedAs(rev, asked), "top", top, "date", d.Text,
		"weight", o.weight, "test curve", o.testCurve, "blank", o.blank, "notes", o.note,
	)}}
	state, err := addRecord(ctx, p, r, rec, models.ParseBuilds, func([]models.Pair) error { return freeSerial(r, o.serial) })
	if err != nil {
		return err
	}
	return p.tellAdded(ctx, r, rev, o.serial, rec.file, state)
}

// offerSerial asks for a number and says which is free.
func offerSerial(r *catalogue.Range) error {
	next, err := r.NextSerial()
	if err != nil {
		return err
	}
	return misuse("say which rod with --serial; the next free number is %s", next)
}

// freeSerial refuses a number that another rod has, or that would be taken for
// one.
func freeSerial(r *catalogue.Range, serial string) error {
	b, err := r.Build(serial)
	taken := serial + " is"
	if errors.Is(err, catalogue.ErrNotFound) {
		if b, err = r.Alike(serial); b == nil {
			return err
		}
		taken = fmt.Sprintf("%s would be taken for %s,", serial, b.Serial)
	}
	if err != nil {
		return err
	}
	next, err := r.NextSerial()
	if err != nil {
		return err
	}
	return fmt.Errorf("%s the number of a %s built on %s already, at %s; the next free number is %s",
		taken, b.Model, b.Date.Text, b.Serial.Pos, next)
}

// tellAdded reads the rod back and says how it came out.
func (p *program) tellAdded(ctx context.Context, r *catalogue.Range, rev *catalogue.Revision, serial, file, state string) error {
	b, err := r.Build(serial)
	if err != nil {
		return err
	}
	weighings, _, err := r.Weigh(ctx, []*catalogue.Build{b})
	if err != nil {
		return err
	}
	s, err := subjectOf(r, rev)
	if err != nil {
		return err
	}
	notes := told(s.teller(), r.RodNotes(b, day(p.now())))
	return p.show(func() object {
		return object{{"rod", rodOf(b, weighings)}, {"revision", revisionOf(rev)}, {"file", file}, {"state", orNull(state)}, {"notes", notes}}
	}, func() {
		p.wrapped("", fmt.Sprintf("%s is in %s: %s", say.English().RodName(serial), file, title(rev)))
		for _, w := range weighings {
			p.wrapped("", weighingWords(s.display(), w))
		}
		for _, n := range notes {
			p.wrapped("", "note: "+n)
		}
		p.tellSaved(file, state)
	})
}
