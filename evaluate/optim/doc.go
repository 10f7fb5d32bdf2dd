// Package optim finds smallest values: of a quadratic function under linear
// limits, and of a sum of squares. Its numbers have no units.
//
// It imports nothing of ours; another kind of problem goes into a file of its own.
package optim
