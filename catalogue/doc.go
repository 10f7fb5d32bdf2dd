// Package catalogue follows a maker's range through its history: which
// revisions each model had, what they were, what became of each figure, and
// which of them went on sale.
//
// It knows the range as a Source of saved states and not where they are kept;
// package gitstore keeps them in git. A revision of a model is its spec
// resolved with the shared parts and materials it uses, so a saved state that
// changes a part is a revision of those models alone that use the part.
//
// A Range is put together of types that each know those below and none above:
//
//	Saves         files and old notes go into the history
//	Checks        what is wrong with the files, and with what became of them
//	Releases      revisions go on sale; whether their tags stand as they were made
//	Reviews       which revisions may: the table of rules in verdict.go
//	Comparisons   what became of a rod from one revision to another
//	Records       what was measured, built, heard and ticked
//	Evaluator     figures and limits, by the range's settings of today
//	History       each model through the states: lineages over one index of them
//	Files         what stands in the working folder
//
// A new question goes to the lowest of them that can answer it. A Year is gathered
// from all.
//
// It makes no prose but errors, and names no commands. What is to be told to
// people is a Note or a Reason, a key with values, which package say has a sentence
// for; an error about which something can be done says what, as a Deed. A new rule
// of the review goes into verdict.go, what else may be wrong with a release into
// altered.go, each with its sentence in say/english.yaml. It imports what lies
// below it (evaluate, diffing, models), and neither say nor pages nor gitstore.
package catalogue
