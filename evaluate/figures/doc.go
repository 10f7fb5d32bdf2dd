// Package figures has the one table of figures: what holds of a figure whatever
// the rod. It has a row for each, with its key, its SI unit, which way is better,
// whether it is exact, what it is made of, how it is written and what of it an
// angler notices. Display writes figures for people by it.
//
// How a figure is worked out is in package evaluate, and what it is called in
// other languages in catalogue/say. The package imports models/units only, so
// that models can read what a maker wants of a figure.
package figures
