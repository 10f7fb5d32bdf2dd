// Package results keeps what was worked out, such as figures, from one run to the
// next, in the user's cache folder. It knows nothing of ranges and repositories: things
// are kept under a key that stands for all they follow from, so that what is kept
// is right or not found, and never stale. They are sealed with a secret of the
// user's, so that what somebody else put there is not found either.
//
// Whatever is wrong with what was kept, it is worked out again: nothing here gives an
// error. It imports cache for the folder, and evaluate for what notes hold.
package results
