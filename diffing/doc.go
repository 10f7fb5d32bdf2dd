// Package diffing says what changed between two specs and between their
// figures, and which of the edits did what. It is pure: two values in, a list of
// differences out; it reads no files and knows nothing of git, and how figures
// are worked out it is told.
//
// All of it are values: a Change of a place in a spec, a Sight of what a customer
// sees, a Share of an edit in the change of a figure. Package say puts them into
// words. It imports models and evaluate. A new thing that a customer sees is an
// Aspect here, with its Looks, a limit in models.StepLimits and its words in say;
// a new field of a spec goes by the Group that groupOf gives it.
package diffing
