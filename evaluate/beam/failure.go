package beam

import (
	"errors"
	"fmt"
)

// Reasons for which a bend is not found. A Failure wraps one of them.
var (
	ErrIterationLimit = errors.New("no equilibrium found within the iteration limit")
	// ErrUnstable: an equilibrium was found that the rod would not stay in.
	ErrUnstable = errors.New("the equilibrium found is not stable")
	// ErrOtherBranch: a stable equilibrium was found that the rod does not reach
	// as the load grows from nothing, or that the mesh is too coarse to tell.
	ErrOtherBranch = errors.New("the equilibrium found is not the one that a growing load leads to: mesh the rod more finely or lower the load")
	// ErrNoSuchLoad: no force in that direction brings the tip where it was
	// asked for.
	ErrNoSuchLoad = errors.New("no force in this direction was found that brings the tip there")
)

// Failure is the error of a bend that was not found. There is no shape beside
// it.
type Failure struct {
	Reason     error
	Load       Load    // the load asked for, or the last one tried on the way to a target
	Target     string  // what was to be reached; empty where the load was given
	Residual   float64 // largest moment out of balance, N·m
	Iterations int
}

// Error names the target, the load and the residual.
func (f *Failure) Error() string {
	text := f.Reason.Error()
	if f.Target != "" {
		text = f.Target + ": " + text
	}
	return fmt.Sprintf("%s (load %s, residual %.3g N·m after %d iterations)", text, f.Load, f.Residual, f.Iterations)
}

// Unwrap gives the reason.
func (f *Failure) Unwrap() error { return f.Reason }
