package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/catalogue/visible"
	"rodlore/models"
)

// heardOptions are what is written down of a remark, as it was typed.
type heardOptions struct {
	said, date, why, cast string
	show                  bool
}

func newHeard(p *program) *cobra.Command {
	var o heardOptions
	cmd := &cobra.Command{
		Use:   "heard MODEL[@LABEL] [--said WORDS]",
		Short: "what customers said of a model",
		Long: `Lists what customers said of a model, or of one revision of it. With --said it
writes a remark down, at the end of the model's file in heard/; with --why it is
saved at once. History shows every remark beside the revision that it is of. Who
said it is not kept. With --show customers read it in the story of the model,
and with --cast how far a cast went that was paced out or measured.`,
		Example: `  rodlore heard skerry-10
  rodlore heard skerry-10@2026 --said "Lighter than it looks."
  rodlore heard skerry-10@2026 --cast "84 m" --said "20 g, paced out" --show`,
		Args:              wants(1, 1, "one model"),
		ValidArgsFunction: p.completeRevisions,
	}
	cmd.RunE = p.onDay(&o.date, func(ctx context.Context, r *catalogue.Range, args []string, d models.Date) error {
		if !cmd.Flags().Changed("said") {
			return p.listHeard(r, args[0], o)
		}
		if o.said = strings.TrimSpace(o.said); o.said == "" {
			return misuseOf("said", "is empty; write down what was said")
		}
		return p.addRemark(ctx, r, args[0], o, d)
	})
	cmd.Flags().StringVar(&o.said, "said", "", "the `words`, to be written down")
	cmd.Flags().StringVar(&o.date, "date", "", "the `day` they were said; today if not given")
	cmd.Flags().StringVar(&o.cast, "cast", "", "the `distance` of a cast that was paced out or measured, such as 84 m")
	cmd.Flags().BoolVar(&o.show, "show", false, "let customers read it in the story")
	cmd.Flags().StringVar(&o.why, "why", "", "save it at once, for this `reason`")
	return cmd
}

// heardOf is what heard prints, oldest first, with the file that a remark was written
// into and the state that was saved; null where none was.
func heardOf(model string, remarks []models.Remark, file, state string) object {
	return object{{"model", model}, {"remarks", remarksOf(remarks)}, {"file", orNull(file)}, {"state", orNull(state)}}
}

// remarksOf are things that were said: whether customers may read each, and how far a
// cast went.
func remarksOf(remarks []models.Remark) []object {
	return say.Each(remarks, func(m models.Remark) object {
		return object{
			{"release", m.Release.Text}, {"date", m.Date.Text}, {"said", m.Said.Text},
			{"show", m.Show}, {"cast_m", givenOrNull(m.Cast)},
		}
	})
}

func (p *program) listHeard(r *catalogue.Range, arg string, o heardOptions) error {
	if o.why != "" || o.date != "" || o.cast != "" || o.show {
		return misuse("--date, --cast, --show and --why go with --said; say what was said")
	}
	model, _, ofOne := strings.Cut(arg, "@")
	var remarks []models.Remark
	var err error
	if ofOne {
		var rev *catalogue.Revision
		if rev, err = r.FindArg(arg); err != nil {
			return err
		}
		remarks, err = r.HeardOf(rev)
	} else {
		remarks, err = r.Heard(model)
	}
	if err != nil {
		return err
	}
	return p.show(func() object { return heardOf(model, remarks, "", "") }, func() { p.showHeard(model, remarks) })
}

func (p *printer) showHeard(model string, remarks []models.Remark) {
	if len(remarks) == 0 {
		p.println("nothing is written down; \"rodlore heard " + visible.Arg(model) + "@LABEL --said …\" does it")
		return
	}
	t := newTable(words("release"), words("heard"), filling(""))
	for _, m := range remarks {
		said := "“" + m.Said.Text + "”"
		if m.Cast.Set() {
			said = m.Cast.Text + ": " + said
		}
		t.add(m.Release.Text, m.Date.Text, said)
	}
	p.print("", t)
}

func (p *program) addRemark(ctx context.Context, r *catalogue.Range, arg string, o heardOptions, d models.Date) error {
	_, asked, given := strings.Cut(arg, "@")
	if !given {
		return misuse("say which release it was said of, as in %s@%d", arg, p.now().Year())
	}
	rev, err := savedRevision(r, arg)
	if err != nil {
		return err
	}
	show := map[bool]string{true: "true"}[o.show]
	entry := entryOf("release", recordedAs(rev, asked), "date", d.Text, "said", o.said, "cast", o.cast, "show", show)
	rec := record{catalogue.HeardFile(rev.Model), "heard", o.why, [][]models.Pair{entry}}
	state, err := addRecord(ctx, p, r, rec, models.ParseHeard, nil)
	if err != nil {
		return err
	}
	remarks, err := r.HeardOf(rev) // reads it back
	if err != nil {
		return err
	}
	remarks = slices.DeleteFunc(remarks, func(m models.Remark) bool { return m.Said.Text != o.said || m.Date.Text != d.Text })
	remarks = remarks[max(0, len(remarks)-1):]
	return p.show(func() object { return heardOf(rev.Model, remarks, rec.file, state) }, func() {
		p.wrapped("", fmt.Sprintf("the remark is in %s: %s", rec.file, title(rev)))
		for _, m := range remarks { // what to look at twice in it
			for _, note := range told(say.Teller{Words: say.English()}, r.RemarkNotes(rev.Model, m, day(p.now()))) {
				p.wrapped("", "note: "+note)
			}
		}
		p.tellSaved(rec.file, state)
	})
}
