// Package visible puts text before people. What stands in a spec, a saved state
// or the name of a file may have come from anywhere, and some characters are no
// text: they steer a terminal, or turn around the order in which others are
// shown. They are written so that they can be seen, at the one place where text
// leaves the program, and words that are offered for a shell are quoted for it.
//
// It imports nothing of ours. Another place that text goes to, with another notion of
// what is visible, gets its function here.
package visible
