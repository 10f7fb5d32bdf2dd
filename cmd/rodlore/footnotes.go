package main

import (
	"fmt"
	"maps"
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
	list    []footnote
	numbers map[footnote]int
}

func newFootnotes(list []footnote) *footnotes {
	return &footnotes{list, map[footnote]int{}}
}

// marks numbers the notes about a figure, for its row.
func (f *footnotes) marks(key string) string {
	var text string
	for _, n := range f.list {
		if n.figure != key {
			continue
		}
		if f.numbers[n] == 0 {
			f.numbers[n] = len(f.numbers) + 1
		}
		text += " " + mark(f.numbers[n])
	}
	return text
}

func mark(number int) string { return fmt.Sprintf("[%d]", number) }

// showFootnotes lists the notes under what they belong to, the numbered ones
// first.
func (p *printer) showFootnotes(f *footnotes) {
	numbered := slices.SortedFunc(maps.Keys(f.numbers), func(a, b footnote) int { return f.numbers[a] - f.numbers[b] })
	t := newTable(words(""), filling(""))
	for _, n := range numbered {
		t.add(mark(f.numbers[n]), n.String())
	}
	for _, n := range f.list {
		if f.numbers[n] == 0 {
			t.add("note:", n.String())
		}
	}
	if len(t.rows) > 0 {
		p.println()
		p.print("", t)
	}
}

// showNotes lists notes that no row refers to.
func (p *printer) showNotes(notes []footnote) { p.showFootnotes(newFootnotes(notes)) }

// notesOf are notes on no figure by itself.
func notesOf(texts []string) []footnote {
	return say.Each(texts, func(text string) footnote { return footnote{"", text} })
}

// notesOn are notes that figures were worked out with.
func notesOn(t say.Teller, notes []evaluate.Note) []footnote {
	return say.Each(notes, func(n evaluate.Note) footnote { return footnote{n.Figure, t.Note(n)} })
}
