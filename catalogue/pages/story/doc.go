// Package story tells how a model became what it is, release by release, to
// customers and to the workshop: one document of a model, and a folder of pages
// of a whole range. It draws and prints nothing itself.
//
// A new part of the story is a method of tale in a file of its own, with its words in
// say/english.yaml; what another page has too goes into package telling.
package story
