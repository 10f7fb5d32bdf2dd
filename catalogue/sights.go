package catalogue

import "rodlore/diffing"

// Limits are how much of what a customer sees may change in one release, by
// range.yaml and the ring sizes of parts.yaml as they stand now.
func (r *Range) Limits() (diffing.Limits, error) {
	set, err := r.Settings()
	if err != nil {
		return diffing.Limits{}, err
	}
	// Faults in the parts are told by the specs that use them; without parts the
	// sizes that the two specs use do.
	parts, _, _ := r.Shared()
	return diffing.NewLimits(set, parts), nil
}

// Comparer compares specs of the range by its Limits, each pair once.
func (r *Range) Comparer() (*diffing.Comparer, error) {
	if r.comparer == nil {
		limits, err := r.Limits()
		if err != nil {
			return nil, err
		}
		r.comparer = diffing.NewComparer(limits)
	}
	return r.comparer, nil
}

// see sets what a customer who knows an earlier revision of the same model,
// which may be nil, sees changed.
func (r *Range) see(s *Step, seen *Revision) error {
	s.Seen, s.Sights = nil, nil
	if seen == nil || seen.Fault() != nil || s.Fault() != nil || seen.Model != s.Model || seen.Top != s.Top {
		return nil
	}
	compare, err := r.Comparer()
	if err != nil {
		return err
	}
	s.Seen, s.Sights = seen, compare.Compare(seen.Spec(), s.Spec()).Sights()
	return nil
}
