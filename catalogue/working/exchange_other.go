//go:build !linux && !darwin

package working

import "errors"

// exchange cannot be done here in one step.
func exchange(string, string) error { return errors.ErrUnsupported }
