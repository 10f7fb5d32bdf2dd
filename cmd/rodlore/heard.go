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
		RunE: func(cmd *cobra.Command, args []string) error {
			d, err := p.dayOf(o.date)
			if err != nil {
				return err
			}
			return p.look(cmd.Context(), func(r *catalogue.Range) error {
				if !cmd.Flags().Changed("said") {
					return p.listHeard(r, args[0], o)
				}
				if o.said = strings.TrimSpace(o.said); o.said == "" {
					return misuse("--said: is empty; write down what was said")
				}
				return p.addRemark(cmd.Context(), r, args[0], o, d)
			})
		},
	}
	cmd.Flags().StringVar(&o.said, "said", "", "the `words`, to be written down")
	cmd.Flags().StringVar(&o.date, "date", "", "the `day` they were said; today if not given")
	cmd.Flags().StringVar(&o.cast, "cast", "", "how far it was cast, such as 84 m: the `distance`")
	cmd.Flags().BoolVar(&o.show, "show", false, "let customers read it in the story")
	cmd.Flags().StringVar(&o.why, "why", "", "save it at once, for this `reason`")
	return cmd
}

// heardJSON is what heard prints.
type heardJSON struct {
	schema
	Model   string       `json:"model"`
	Remarks []remarkJSON `json:"remarks"` // oldest first
	File    *string      `json:"file"`    // that a remark was written into; null where none was
	State   *string      `json:"state"`   // the saved state; null where it was not saved
}

// remarkJSON is one thing that was said.
type remarkJSON struct {
	Release string   `json:"release"`
	Date    string   `json:"date"`
	Said    string   `json:"said"`
	Show    bool     `json:"show"`   // to customers
	Cast    *float64 `json:"cast_m"` // how far; null where it is not of one cast
}

func remarksOf(remarks []models.Remark) []remarkJSON {
	return each(remarks, func(m models.Remark) remarkJSON {
		doc := remarkJSON{Release: m.Release.Text, Date: m.Date.Text, Said: m.Said.Text, Show: m.Show == models.MayShow}
		if m.Cast.Set() {
			doc.Cast = new(float64(m.Cast.Value))
		}
		return doc
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
	if p.json {
		return p.writeJSON(heardJSON{schema: schema1, Model: model, Remarks: remarksOf(remarks)})
	}
	if len(remarks) == 0 {
		p.println("nothing is written down; \"rodlore heard " + visible.Arg(model) + "@LABEL --said …\" does it")
		return nil
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
	return nil
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
	rec := record{file: catalogue.HeardFile(rev.Model), list: "heard", why: o.why}
	rec.with("release", recordedAs(rev, asked))
	rec.with("date", d.Text)
	rec.with("said", o.said)
	if o.cast != "" {
		rec.with("cast", o.cast)
	}
	if o.show {
		rec.with("show", string(models.MayShow))
	}
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
	if p.json {
		return p.writeJSON(heardJSON{schema1, rev.Model, remarksOf(remarks), &rec.file, orNull(state)})
	}
	p.wrapped("", fmt.Sprintf("the remark is in %s: %s", rec.file, title(rev)))
	for _, m := range remarks { // what to look at twice in it
		for _, note := range told(say.Teller{Words: say.English()}, r.RemarkNotes(rev.Model, m, day(p.now()))) {
			p.wrapped("", "note: "+note)
		}
	}
	p.tellSaved(rec.file, state)
	return nil
}
