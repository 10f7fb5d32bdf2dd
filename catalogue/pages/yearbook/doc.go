// Package yearbook lays out the workshop's record of one year: what was released
// and tried, built, mended and heard of every model. What there is of a year is
// gathered by catalogue.Year; a new part of the book is a method of book, with its
// words under yearbook: in say/english.yaml.
package yearbook
