// Package catalogue follows a maker's range through its history: which
// revisions each model had, what they were, what became of each figure, and
// which of them went on sale.
//
// It knows the range as a Source of saved states and not where they are kept;
// package gitstore keeps them in git. A revision of a model is its spec
// resolved with the shared parts and materials it uses, so a saved state that
// changes a part is a revision of those models alone that use the part.
package catalogue
