// Package optim finds smallest values: of a quadratic function under linear
// limits, and of a sum of squares. Its numbers have no units.
package optim
