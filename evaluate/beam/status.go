package beam

import (
	"errors"
	"fmt"
)

// Status says how a computation ended.
type Status int

const (
	// Converged: an equilibrium was found, and it is the stable one.
	Converged Status = iota
	// IterationLimit: the steps ran out before an equilibrium was found.
	IterationLimit
	// Unstable: an equilibrium was found that the rod would not stay in.
	Unstable
	// OtherBranch: a stable equilibrium was found that the rod does not reach
	// as the load grows from nothing, or that the mesh is too coarse to tell.
	OtherBranch
	// NoSuchLoad: no force in that direction brings the tip where it was
	// asked for.
	NoSuchLoad
)

var statuses = [...]struct {
	name string
	err  error
}{
	Converged:      {"converged", nil},
	IterationLimit: {"iteration limit", errors.New("no equilibrium found within the iteration limit")},
	Unstable:       {"unstable", errors.New("the equilibrium found is not stable")},
	OtherBranch:    {"other branch", errors.New("the equilibrium found is not the one that a growing load leads to: mesh the rod more finely or lower the load")},
	NoSuchLoad:     {"no such load", errors.New("no force in this direction was found that brings the tip there")},
}

// String names the status in a word or two.
func (s Status) String() string {
	if s < 0 || int(s) >= len(statuses) {
		return fmt.Sprintf("Status(%d)", int(s))
	}
	return statuses[s].name
}

// Err is nil for Converged and otherwise an error that errors.Is finds in
// every Failure of that status.
func (s Status) Err() error {
	if s < 0 || int(s) >= len(statuses) {
		return fmt.Errorf("unknown status %d", int(s))
	}
	return statuses[s].err
}

// Failure is the error of a bend that was not found. There is no shape beside
// it.
type Failure struct {
	Status     Status
	Load       Load    // the load asked for, or the last one tried on the way to a target
	Target     string  // what was to be reached; empty where the load was given
	Residual   float64 // largest moment out of balance, N·m
	Iterations int
}

// Error names the target, the load and the residual.
func (f *Failure) Error() string {
	text := f.Status.Err().Error()
	if f.Target != "" {
		text = f.Target + ": " + text
	}
	return fmt.Sprintf("%s (load %s, residual %.3g N·m after %d iterations)", text, f.Load, f.Residual, f.Iterations)
}

// Unwrap gives the status's error.
func (f *Failure) Unwrap() error { return f.Status.Err() }
