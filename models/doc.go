// Package models reads the files of a range: the models, the parts and
// materials they share, the maker's settings, and what was measured of rods. It
// keeps what was written beside what it means, with its place in the file, and
// reports every fault of a file at once.
//
// It is the only package that knows YAML. It evaluates nothing and knows
// nothing of git: the same calls serve a file on disk, a file of years ago and
// a test.
//
// A file is read by a table of keys, each with the reader of its value. A new key is
// a row there, and by that row it is also walked: for the identity of a revision, for
// what differs and for what it is worked out from. It imports units, spelling and the
// table of figures.
package models
