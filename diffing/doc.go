// Package diffing says what changed between two specs and between their
// figures. It is pure: two values in, a list of differences out; it reads no
// files and knows nothing of git.
package diffing
