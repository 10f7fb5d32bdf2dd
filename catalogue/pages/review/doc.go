// Package review lays out the review of a revision before it goes on sale. What
// speaks against a rod comes from the catalogue; a new block of the page is a
// method of page here, with its words under review: in say/english.yaml.
package review
