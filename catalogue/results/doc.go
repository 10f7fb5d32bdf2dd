// Package results keeps worked out figures from one run to the next, in the
// user's cache folder. It knows nothing of ranges and repositories: figures are
// kept under a key that stands for all they follow from, so that what is kept
// is right or not found, and never stale. They are sealed with a secret of the
// user's, so that figures which somebody else put there are not found either.
//
// The folder may be removed at any time. Whatever is wrong with it, a file cut
// short, bits that changed, a folder that may not be written, the figures are
// worked out again: nothing here gives an error.
package results
