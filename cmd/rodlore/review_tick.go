package main

import (
	"context"

	"rodlore/catalogue"
	"rodlore/models"
)

// tickedJSON is what review prints of ticks.
type tickedJSON struct {
	schema
	Model    string       `json:"model"`
	Revision revisionJSON `json:"revision"`
	Ticked   []string     `json:"ticked"`
	File     string       `json:"file"`
	State    *string      `json:"state"` // saved; null where it was only written
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
		if err := p.addTicks(r, rev, file, o, on); err != nil {
			return err
		}
		state, err := p.saveRecord(ctx, r, file, o.why)
		if err != nil {
			return err
		}
		if p.json {
			return p.writeJSON(tickedJSON{schema1, rev.Model, revisionOf(rev), o.ticks, file, orNull(state)})
		}
		p.println(count(len(o.ticks), "check") + " of revision " + rev.ShortID() + " ticked in " + file)
		p.tellSaved(file, state)
		return nil
	})
}

// addTicks adds ticks to the file, none where one of them cannot be given.
func (p *program) addTicks(r *catalogue.Range, rev *catalogue.Revision, file string, o reviewOptions, on models.Date) error {
	for _, check := range o.ticks {
		if err := r.Tickable(rev, check); err != nil {
			return err
		}
	}
	for _, check := range o.ticks {
		rec := record{file: file, list: "ticked"}
		rec.with("check", check)
		rec.with("revision", rev.ShortID())
		rec.with("date", on.Text)
		rec.with("by", o.by)
		if err := addRecord(p, rec, models.ParseReviews, func() error { return r.Tickable(rev, check) }); err != nil {
			return err
		}
	}
	return nil
}
