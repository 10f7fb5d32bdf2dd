package models

import (
	"cmp"
	"errors"
	"slices"
	"strings"
)

// Fault is one thing wrong in one file.
type Fault struct {
	Pos  Pos
	Path string // "sections[tip].tube[at 0 mm].wall"; "" where the file did not parse
	Msg  string // lower case, no full stop: what was written, what was expected
}

// Error gives file:line:col: path: message.
func (f *Fault) Error() string {
	if f.Path == "" {
		return f.Pos.String() + ": " + f.Msg
	}
	return f.Pos.String() + ": " + f.Path + ": " + f.Msg
}

// Faults is every fault found, by position. It is never empty when returned.
type Faults []*Fault

// Error gives every fault, one a line.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Sorted gives the faults by position, without doubles.
func (fs Faults) Sorted() Faults {
	fs = slices.Clone(fs)
	slices.SortStableFunc(fs, func(a, b *Fault) int {
		return cmp.Or(
			cmp.Compare(a.Pos.File, b.Pos.File),
			cmp.Compare(a.Pos.Line, b.Pos.Line),
			cmp.Compare(a.Pos.Col, b.Pos.Col))
	})
	return slices.CompactFunc(fs, func(a, b *Fault) bool { return *a == *b })
}

// err is the faults sorted; nil where there are none.
func (fs Faults) err() error {
	if len(fs) == 0 {
		return nil
	}
	return fs.Sorted()
}

// Together makes one error of several: all faults, or the first that is
// something else.
func Together(errs ...error) error {
	var all Faults
	for _, err := range errs {
		var faults Faults
		if err != nil && !errors.As(err, &faults) {
			return err
		}
		all = append(all, faults...)
	}
	return all.err()
}
