package catalogue

import (
	"cmp"
	"context"
	"slices"

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
