package catalogue

import (
	"context"
	"errors"
	"reflect"
	"slices"
	"time"

	"rodlore/models"
)

// Year gathers what became of the range in a year. now says which year it is:
// drafts are of that one. What cannot be read is noted and stops nothing but
// faults in range.yaml, which all figures hang on.
func (r *Range) Year(ctx context.Context, number int, now time.Time) (*Year, error) {
	if _, err := r.Settings(); err != nil {
		return nil, err
	}
	y := &yearReader{Range: r, now: now, year: &Year{Number: number}, line: r.index.line()}
	if n := len(r.index.States); n > 0 {
		y.year.Begun = &r.index.States[n-1]
	}
	for _, n := range r.Notes() {
		y.note(plain(n.Error()))
	}
	if err := y.models(); err != nil {
		return nil, err
	}
	y.stock()
	if err := y.weigh(ctx); err != nil {
		return nil, err
	}
	if err := y.compare(ctx); err != nil {
		return nil, err
	}
	for _, list := range [][]*ModelYear{y.year.Models, y.year.Quiet} {
		ByFamily(list, (*ModelYear).Family, func(m *ModelYear) string { return m.Model })
	}
	return y.year, nil
}

// yearReader is a year being gathered.
type yearReader struct {
	*Range
	now   time.Time
	year  *Year
	line  []*State // first parents from the head, newest first
	names []string // of the models that have a file now
	rods  []*Build // of all years
	pairs []pair
}

// pair is a step that is to be worked out once all figures are.
type pair struct {
	old, new *Revision
	into     **Step
}

// note notes what could not be read, once: a fault in the parts is one of every
// model.
func (y *yearReader) note(n Note) {
	if !slices.ContainsFunc(y.year.Notes, func(told Note) bool { return reflect.DeepEqual(told, n) }) {
		y.year.Notes = append(y.year.Notes, n)
	}
}

// noteFaults notes faults and gives back what else went wrong.
func (y *yearReader) noteFaults(err error) error {
	var faults models.Faults
	if !errors.As(err, &faults) {
		return err
	}
	y.noteAll(faults)
	return nil
}

func (y *yearReader) noteAll(faults models.Faults) {
	for _, f := range faults {
		y.note(plain(f.Error()))
	}
}

// models gathers every model's year.
func (y *yearReader) models() error {
	names, err := y.everyModel()
	if err != nil {
		return err
	}
	if y.names, err = y.Models(); err != nil {
		return err
	}
	y.rods, err = y.Builds("")
	if err := y.noteFaults(err); err != nil {
		return err
	}
	// What is written of rods and models that there are not is in no model's year.
	var all found
	if y.buildFaults(&all); all.err != nil {
		return all.err
	}
	y.noteAll(all.faults)
	for _, name := range names {
		m, err := y.model(name)
		switch {
		case err != nil:
			return err
		case m.told():
			y.year.Models = append(y.year.Models, m)
		case m.Stood != nil:
			y.year.Quiet = append(y.year.Quiet, m)
		}
	}
	return nil
}

// compare works out the steps of the year, the figures on every processor.
func (y *yearReader) compare(ctx context.Context) error {
	var needed []*Revision
	for _, p := range y.pairs {
		needed = append(needed, p.new)
		if p.old != nil {
			needed = append(needed, p.old)
		}
	}
	if err := y.evaluateAll(ctx, needed, y.FiguresWithTolerances); err != nil {
		return err
	}
	for _, p := range y.pairs {
		step, err := y.Compare(ctx, p.old, p.new)
		if err != nil {
			return err
		}
		*p.into = step
		for _, n := range step.Notes {
			y.note(note("notes.of model", "model", p.new.Model, "note", n))
		}
		if step.Unworkable != nil {
			y.note(note("notes.no figures", "model", p.new.Model, "why", FirstFault(step.Unworkable)))
		}
	}
	return nil
}
