package catalogue

import (
	"rodlore/diffing"
)

// Limits are how much of what a customer sees may change in one release, by
// range.yaml and the ring sizes of parts.yaml as they stand now.
func (r *Range) Limits() (diffing.Limits, error) {
	if r.limits != nil {
		return *r.limits, nil
	}
	set, err := r.Settings()
	if err != nil {
		return diffing.Limits{}, err
	}
	// Faults in the parts are told by the specs that use them; without parts the
	// sizes that the two specs use do.
	parts, _, _ := r.Shared()
	limits := diffing.NewLimits(set, parts)
	r.limits = &limits
	return limits, nil
}

// see sets what a customer who knows an earlier revision of the same model,
// which may be nil, sees changed.
func (r *Range) see(s *Step, seen *Revision) error {
	s.Seen, s.Sights = nil, nil
	if seen == nil || seen.Fault() != nil || s.Fault() != nil || seen.Model != s.Model {
		return nil
	}
	limits, err := r.Limits()
	if err != nil {
		return err
	}
	s.Seen, s.Sights = seen, diffing.Visible(seen.Spec(), s.Spec(), limits)
	return nil
}
