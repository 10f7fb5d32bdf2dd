package models

import (
	"slices"
	"strings"

	"rodlore/models/spelling"
)

// Reviews is the content of a file of reviews/: what a maker checked by hand on
// rods of one model.
type Reviews struct {
	File   string
	Ticked []Tick
}

// Tick says that somebody checked something by hand, on a rod of one revision.
type Tick struct {
	Pos      Pos
	Check    Word
	Revision Word // its identity
	Date     Date
	By       Word // initials
}

// HandCheck is something that a careful maker looks at with eye and hand before
// a rod goes on sale.
type HandCheck struct {
	Pos   Pos
	Check Word // its name
	Look  Word // what to look for; unset where the name says it
}

// ParseReviews reads a file of reviews/; see ParseModel. An empty src is a model
// of which nothing was ticked.
func ParseReviews(file string, src []byte) (*Reviews, error) {
	return parse(&Reviews{File: file}, file, src, &reviewsTable)
}

var reviewsTable = table[Reviews]{
	example: "the key ticked",
	keys: []key[Reviews]{
		{"ticked", optional, list(func(r *Reviews) *[]Tick { return &r.Ticked }, &tickTable)},
	},
}

var tickTable = table[Tick]{
	example: "{check: feet, revision: 53d3cc7b, date: 2026-11-07, by: MK}",
	pos:     func(t *Tick) *Pos { return &t.Pos },
	keys: []key[Tick]{
		{"check", required, word(func(t *Tick) *Word { return &t.Check })},
		{"revision", required, identity(func(t *Tick) *Word { return &t.Revision })},
		{"date", required, date(func(t *Tick) *Date { return &t.Date })},
		{"by", required, word(func(t *Tick) *Word { return &t.By })},
	},
}

var handCheckTable = table[HandCheck]{
	example: "{check: hook keeper, look: it holds the smallest hook of the range}",
	pos:     func(c *HandCheck) *Pos { return &c.Pos },
	keys: []key[HandCheck]{
		{"check", required, name(func(c *HandCheck) *Word { return &c.Check })},
		{"look", optional, word(func(c *HandCheck) *Word { return &c.Look })},
	},
}

// LeastIdentity is how many characters of an identity make it sure which is
// meant.
const LeastIdentity = 8

// identity reads the first characters of a revision's identity.
func identity[T any](get func(*T) *Word) reader[T] {
	r := word(get).then(func(v value, into *T) {
		w := get(into)
		if w.Text != "" && (len(w.Text) < LeastIdentity || strings.Trim(w.Text, "0123456789abcdef") != "") {
			v.fault("%q is no identity; expected %d characters of it or more, such as 53d3cc7b", spelling.Shorten(w.Text), LeastIdentity)
			*w = Word{}
		}
	})
	r.expect = "the identity of a revision, such as 53d3cc7b"
	return r
}

// handChecks reads checks over those that were there before: one of the same
// name takes its place, others follow.
func handChecks() reader[Settings] {
	r := list(func(s *Settings) *[]HandCheck { return &s.ByHand }, &handCheckTable)
	read := r.read
	r.read = func(v value, s *Settings) {
		checks := slices.Clone(s.ByHand)
		s.ByHand = nil
		read(v, s)
		given := map[string]Pos{}
		for _, c := range s.ByHand {
			if first, twice := given[c.Check.Text]; twice && c.Check.Text != "" {
				v.doc.fault(c.Pos, v.path, "%q is given twice; the first is in line %d", c.Check, first.Line)
			}
			given[c.Check.Text] = c.Pos
			if i := slices.IndexFunc(checks, func(o HandCheck) bool { return o.Check.Text == c.Check.Text }); i >= 0 {
				checks[i] = c
			} else {
				checks = append(checks, c)
			}
		}
		s.ByHand = checks
	}
	return r
}
