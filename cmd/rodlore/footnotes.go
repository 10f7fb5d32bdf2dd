package main

import (
	"fmt"
	"slices"

	"rodlore/catalogue/say"
	"rodlore/evaluate"
)

// footnote is a note in words, with the key of the figure that it is about; "" where
// of no one figure.
type footnote struct{ figure, text string }

func (n footnote) String() string {
	if n.figure == "" {
		return n.text
	}
	return n.figure + ": " + n.text
}

// MarshalText writes the note as String does.
func (n footnote) MarshalText() ([]byte, error) { return []byte(n.String()), nil }

// footnotes are notes on a table. Those that a row refers to have a number.
type footnotes struct {
	list     []footnote
	numbered []footnote // in the order of their numbers, from 1
}

// marks numbers the notes about a figure, for its row.
func (f *footnotes) marks(key string) string {
	var text string
	for _, n := range f.list {
		if n.figure != key {
			continue
		}
		at := slices.Index(f.numbered, n)
		if at < 0 {
			at, f.numbered = len(f.numbered), append(f.numbered, n)
		}
		text += " " + mark(at)
	}
	return text
}

func mark(at int) string { return fmt.Sprintf("[%d]", at+1) }

// showFootnotes lists the notes under what they belong to, the numbered ones
// first.
func (p *printer) showFootnotes(f *footnotes) {
	t := newTable(words(""), filling(""))
	for at, n := range f.numbered {
		t.add(mark(at), n.String())
	}
	for _, n := range f.list {
		if !slices.Contains(f.numbered, n) {
			t.add("note:", n.String())
		}
	}
	if len(t.rows) > 0 {
		p.println()
		p.print("", t)
	}
}

// showNotes lists notes that no row refers to.
func (p *printer) showNotes(notes []footnote) { p.showFootnotes(&footnotes{list: notes}) }

// notesOf are notes on no figure by itself.
func notesOf(texts []string) []footnote {
	return say.Each(texts, func(text string) footnote { return footnote{"", text} })
}

// notesOn are notes that figures were worked out with.
func notesOn(t say.Teller, notes []evaluate.Note) []footnote {
	return say.Each(notes, func(n evaluate.Note) footnote { return footnote{n.Figure, t.Note(n)} })
}
