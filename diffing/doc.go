// Package diffing says what changed between two specs and between their
// figures, and which of the edits did what. It is pure: two values in, a list of
// differences out; it reads no files and knows nothing of git, and how figures
// are worked out it is told.
package diffing
