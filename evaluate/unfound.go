package evaluate

import (
	"errors"
	"fmt"
	"strings"

	"rodlore/evaluate/beam"
	"rodlore/evaluate/figures"
)

// unfound says for a maker why a bend was not found: what the kernel says of its
// iterations and residuals helps nobody at a bench.
func unfound(err error, d figures.Display) error {
	var f *beam.Failure
	if !errors.As(err, &f) {
		return err
	}
	tried := d.Value("", "N", f.Load.Force)
	const look = "look whether the moduli (GPa, not MPa), the walls and the diameters of the spec are as you meant them"
	switch {
	case errors.Is(err, beam.NoSuchLoad.Err()):
		where := "where it was asked for"
		if f.Target != "" {
			where = "to a " + strings.TrimPrefix(f.Target, "a ")
		}
		return &unfoundError{fmt.Sprintf("no load was found that brings the tip %s, the last one tried being %s; %s", where, tried, look), err}
	case errors.Is(err, beam.OtherBranch.Err()), errors.Is(err, beam.Unstable.Err()):
		return &unfoundError{fmt.Sprintf("under %s the rod would not stay in the bend that was found; a load as large is none for this rod, or %s", tried, look), err}
	default:
		return &unfoundError{fmt.Sprintf("the bend under %s was not found; lower the load, or %s", tried, look), err}
	}
}

// unfoundError is what is said for a maker in place of the kernel's error.
type unfoundError struct {
	text  string
	cause error
}

func (e *unfoundError) Error() string { return e.text }
func (e *unfoundError) Unwrap() error { return e.cause }
