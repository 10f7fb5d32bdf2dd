// Package sheet lays out what a rod is built by: its build sheet, and a strip of
// its true length with the places of its rings. It works out no figures and
// writes no files.
//
// A new part of the sheet is a method of sheet in a file of its own, with its words
// under sheet: in say/english.yaml.
package sheet
