// Package oldnotes reads what a maker wrote down of a rod before its history was
// kept: a table of ring places by year, as spreadsheets export it (RFC 4180), or
// dated copies of a spec. It gives entries, oldest first, with every fault at its
// place; it writes nothing and knows no repository.
//
// It imports models alone. A further way in which notes come, such as another kind
// of file, goes here, as one more function that gives entries.
package oldnotes
