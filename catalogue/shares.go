package catalogue

import (
	"context"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/models"
)

// Shares says which of the edits between two revisions, of one model or of two,
// did what to the figures. Neither may have a Fault.
func (r *Range) Shares(ctx context.Context, old, now *Revision) (*diffing.Shares, error) {
	rods, err := r.Rods()
	if err != nil {
		return nil, err
	}
	compare, err := r.Comparer()
	if err != nil {
		return nil, err
	}
	return compare.Compare(old.Spec(), now.Spec()).ShareOut(ctx, func(s *models.Spec) (*evaluate.Figures, error) {
		return rods.Of(s).Figures()
	})
}
