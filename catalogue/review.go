package catalogue

import (
	"context"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/models"
)

// Reviews says which revisions may go on sale.
type Reviews struct{ *Comparisons }

// Review is what there is to say of a revision before it goes on sale.
type Review struct {
	*Revision
	Figures *evaluate.Figures // with tolerances
	Wants   []evaluate.Wanted

	// Since compares it with the last release before it; nil where there is none.
	Since *Step

	// Limits are estimates of strength, to compare revisions by and no safe
	// loads; nil where NoLimits says why there are none.
	Limits   *evaluate.Limits
	NoLimits error

	Measured *Measurements
	Unpriced []string // parts of the rod that parts.yaml gives no price
	ByHand   []HandCheck

	// Tops are the reviews of the rod with each of its other tops, as far as those
	// make another rod of it: nothing is measured or ticked of them.
	Tops []*Review

	Reasons []Reason // what speaks against it and its tops, the gravest first
}

// Review reviews a revision: against what its spec wants, the last release
// before it, the strength of its blank, the path of its line, what was measured
// and what was checked by hand. A revision with a fault, or that gives no rod,
// is an error.
func (r *Reviews) Review(ctx context.Context, rev *Revision) (*Review, error) {
	return r.review(ctx, rev, (*evaluate.Rod).Limits)
}

// Judge reviews a revision as far as its verdict goes: of its Limits are only those
// that evaluate.Rod.FlattestLift gives.
func (r *Reviews) Judge(ctx context.Context, rev *Revision) (*Review, error) {
	return r.review(ctx, rev, (*evaluate.Rod).FlattestLift)
}

func (r *Reviews) review(ctx context.Context, rev *Revision, limits func(*evaluate.Rod) (*evaluate.Limits, error)) (*Review, error) {
	before := rev.Before.LastRelease()
	v, err := r.workedOut(ctx, rev, before, limits)
	if err != nil {
		return nil, err
	}
	for _, top := range rev.Tops() {
		var with *Revision // before, with the same top; nil where it had none such
		if before != nil {
			with, _ = before.With(top.Top)
		}
		of, err := r.workedOut(ctx, top, with, limits)
		if err != nil {
			return nil, err
		}
		v.Tops = append(v.Tops, of)
	}
	if v.Measured, err = r.MeasuredOn(ctx, rev); err != nil {
		return nil, err
	}
	if v.ByHand, err = r.ByHand(rev); err != nil {
		return nil, err
	}
	v.Unpriced = unpriced(rev.Spec())
	v.Reasons = judge(v)
	return v, nil
}

// workedOut is what is worked out of a rod for its review, and how that changed since
// a release before it, which may be nil.
func (r *Reviews) workedOut(ctx context.Context, rev, before *Revision, limits func(*evaluate.Rod) (*evaluate.Limits, error)) (v *Review, err error) {
	rods, err := r.Rods()
	if err != nil {
		return nil, err
	}
	v = &Review{Revision: rev, Measured: &Measurements{}}
	if v.Figures, err = r.FiguresWithTolerances(ctx, rev); err != nil {
		return nil, err
	}
	v.Wants = evaluate.Wants(rev.Spec(), v.Figures)
	if before != nil {
		if v.Since, err = r.Compare(ctx, before, rev); err != nil {
			return nil, err
		}
	}
	v.Limits, v.NoLimits = limits(rods.Of(rev.Spec()))
	return v, nil
}

// Sights are what a customer who knows the last release sees changed.
func (v *Review) Sights() []diffing.Sight {
	if v.Since == nil {
		return nil
	}
	return v.Since.Sights()
}

// unpriced are the bought parts of a rod that have no price, in the order of the
// spec. Thread and varnish are no parts of it.
func unpriced(s *models.Spec) []string {
	var list []string
	seen := map[string]bool{"": true}
	add := func(name string) {
		if !seen[name] && !s.Parts[name].Price.Set() {
			list = append(list, name)
		}
		seen[name] = true
	}
	for _, ring := range s.Rings {
		add(ring.Part.Text)
	}
	add(s.Handle.Seat.Part.Text)
	for _, g := range s.Handle.Grips {
		add(g.Part.Text)
	}
	add(s.Handle.Cap.Part.Text)
	return list
}
