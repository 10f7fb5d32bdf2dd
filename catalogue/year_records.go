package catalogue

import (
	"cmp"
	"context"
	"slices"

	"rodlore/diffing"
	"rodlore/models"
)

// records sets what was built, mended and heard of a model.
func (y *yearReader) records(m *ModelYear, l *lineage) error {
	for _, b := range y.rods {
		if !slices.Contains(l.names, b.Model.Text) {
			continue
		}
		if y.has(b.Date.Day) {
			m.Rods = append(m.Rods, b)
		}
		for _, repair := range b.Repairs {
			if y.has(repair.Date.Day) {
				m.Repairs = append(m.Repairs, Mending{repair, b})
			}
		}
	}
	slices.SortStableFunc(m.Repairs, func(a, b Mending) int { return cmp.Compare(a.Date.Text, b.Date.Text) })
	heard, err := y.Heard(m.Model)
	m.Heard = slices.DeleteFunc(heard, func(said models.Remark) bool { return !y.has(said.Date.Day) })
	return y.noteFaults(err)
}

// weigh holds the rods against the weights worked out, those of the year model
// by model and all of them up to its end on one chart.
func (y *yearReader) weigh(ctx context.Context) error {
	upTo := slices.DeleteFunc(slices.Clone(y.rods), func(b *Build) bool { return b.Date.Day.Year() > y.year.Number })
	chart, err := y.chart(ctx, upTo, true)
	if err != nil {
		return err
	}
	for _, w := range chart.Weighings {
		if !y.has(w.Date.Day) {
			continue
		}
		y.year.Chart = chart
		for _, m := range y.year.Models {
			if slices.Contains(m.Rods, w.Build) {
				m.Weighings = append(m.Weighings, w)
			}
		}
	}
	for _, n := range chart.Notes {
		y.note(n)
	}
	return nil
}

// stock gathers what was changed of the parts and materials in the year. A merge
// that takes either side as it was changed nothing.
func (y *yearReader) stock() {
	for i := range slices.Backward(y.index.States) {
		st := &y.index.States[i]
		if !y.has(st.When) || !y.index.onHead[i] {
			continue
		}
		for _, c := range st.Changes {
			if c.Parent == 0 && y.inAll(st, c.Path) {
				y.stockEdit(st, c)
			}
		}
	}
}

// inAll reports whether a file differs between a state and every parent of it.
func (y *yearReader) inAll(st *State, path string) bool {
	n := 0
	for _, c := range st.Changes {
		if c.Path == path {
			n++
		}
	}
	return n >= len(st.Parents)
}

// stockEdit adds what one state changed in one file, if it is of parts or
// materials.
func (y *yearReader) stockEdit(st *State, c Change) {
	var changes []diffing.Change
	var err error
	switch c.Path {
	case partsFile:
		changes, err = stockChanges(c, y.specs.parts, diffing.Parts)
	case materialsFile:
		changes, err = stockChanges(c, y.specs.materials, diffing.Materials)
	}
	if err != nil {
		y.note(note("notes.stock unread", "file", c.Path, "day", st.Day(), "why", FirstFault(err)))
	}
	if len(diffing.Edits(changes)) > 0 {
		y.year.Stock = append(y.year.Stock, StockEdit{State: st, File: c.Path, Begun: c.Old == "", Changes: changes})
	}
}

// stockChanges compares a file with what it was.
func stockChanges[T any](c Change, read func(blob string) (T, error), compare func(old, now T) []diffing.Change) ([]diffing.Change, error) {
	old, err := read(c.Old)
	if err != nil {
		return nil, err
	}
	now, err := read(c.New)
	if err != nil {
		return nil, err
	}
	return compare(old, now), nil
}
