package evaluate

import (
	"errors"
	"fmt"

	"rodlore/evaluate/beam"
	"rodlore/evaluate/figures"
)

// missing says for a maker why a figure has no answer: what the kernel says of
// its iterations and residuals helps nobody at a bench.
func missing(figure string, err error) Note {
	var f *beam.Failure
	if !errors.As(err, &f) {
		return NewNote("notes.plain", "text", err.Error()).on(figure)
	}
	key := "unfound.bend"
	switch f.Reason {
	case beam.ErrNoSuchLoad:
		key = "unfound.load"
	case beam.ErrOtherBranch, beam.ErrUnstable:
		key = "unfound.rest"
	}
	return NewNote(key, "load", quantity("N", f.Load.Force)).on(figure)
}

// unfound is the error of a bend as a maker can use it.
func unfound(err error, d figures.Display) error {
	var f *beam.Failure
	if !errors.As(err, &f) {
		return err
	}
	return &unfoundError{d.Value("", "N", f.Load.Force), err}
}

// unfoundError is what is said for a maker in place of the kernel's error.
type unfoundError struct {
	load  string // the last one tried
	cause error
}

func (e *unfoundError) Error() string {
	return fmt.Sprintf("no bend was found, the last load tried being %s; lower the load, or look whether the moduli (GPa, not MPa), the walls and the diameters of the spec are as you meant them", e.load)
}

func (e *unfoundError) Unwrap() error { return e.cause }
