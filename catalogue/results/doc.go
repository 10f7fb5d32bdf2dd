// Package results keeps worked out figures from one run to the next, in the
// user's cache folder. It knows nothing of ranges and repositories: figures are
// kept under a key that stands for all they follow from, so that what is kept
// is right or not found, and never stale. They are sealed with a secret of the
// user's, so that figures which somebody else put there are not found either.
//
// Whatever is wrong with what was kept, the figures are worked out again: nothing
// here gives an error.
//
// It imports evaluate for the figures and cache for the folder. Figures with a new part
// are kept with it where [Store.Put] writes them.
package results
