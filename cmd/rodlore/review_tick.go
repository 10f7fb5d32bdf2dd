package main

import (
	"context"

	"rodlore/catalogue"
	"rodlore/models"
)

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
		state, err := p.addTicks(ctx, r, rev, file, o, on)
		if err != nil {
			return err
		}
		if p.json {
			return p.writeJSON(object{{"model", rev.Model}, {"revision", revisionOf(rev)}, {"ticked", o.ticks}, {"file", file}, {"state", orNull(state)}})
		}
		p.println(count(len(o.ticks), "check") + " of revision " + rev.ShortID() + " ticked in " + file)
		p.tellSaved(file, state)
		return nil
	})
}

// addTicks adds ticks to the file, none where one of them cannot be given, and
// saves it where a reason is given. Ticks that stand there and only were not saved
// yet are saved and not given again.
func (p *program) addTicks(ctx context.Context, r *catalogue.Range, rev *catalogue.Revision, file string, o reviewOptions, on models.Date) (state string, err error) {
	var fresh []record
	for _, check := range o.ticks {
		rec := record{file: file, list: "ticked"}
		rec.with("check", check, "revision", rev.ShortID(), "date", on.Text, "by", o.by)
		there, saved, err := p.holds(ctx, r, rec)
		if err != nil {
			return "", err
		}
		if there && !saved && o.why != "" {
			continue
		}
		if err := r.Tickable(rev, check); err != nil {
			return "", err
		}
		fresh = append(fresh, rec)
	}
	for _, rec := range fresh {
		free := func() error { return r.Tickable(rev, rec.entry[0].Value) }
		if _, err := addRecord(ctx, p, r, rec, models.ParseReviews, free); err != nil {
			return "", err
		}
	}
	return p.saveHeld(ctx, r, file, o.why)
}
