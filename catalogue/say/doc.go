// Package say puts values into words: every sentence of the pages, the review and
// the terminal that a translation needs stands in english.yaml, or in what a
// maker's words.yaml makes of it. It knows what can be said, and nothing of where
// on a page it stands.
//
// Words are the sentences of one language, a Teller has the units and digits of a
// range besides. What is said of a value goes into the file of its kind: looks.go
// and changes.go for package diffing, notes.go for the Notes and Reasons of the
// catalogue, plan.go for plans. It imports what lies below (catalogue and its plan,
// diffing, evaluate, models), and nothing of pages. It never reads a text that it
// made.
package say
