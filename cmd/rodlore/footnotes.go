package main

import (
	"fmt"
	"maps"
	"slices"

	"rodlore/evaluate"
)

// footnotes are notes on a table. Those that a row refers to have a number.
type footnotes struct {
	list    []evaluate.Note
	numbers map[evaluate.Note]int
}

func newFootnotes(list []evaluate.Note) *footnotes {
	return &footnotes{list, map[evaluate.Note]int{}}
}

// marks numbers the notes about a figure, for its row.
func (f *footnotes) marks(key string) string {
	var text string
	for _, n := range f.list {
		if n.Figure != key {
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
	numbered := slices.SortedFunc(maps.Keys(f.numbers), func(a, b evaluate.Note) int { return f.numbers[a] - f.numbers[b] })
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
func (p *printer) showNotes(notes []evaluate.Note) { p.showFootnotes(newFootnotes(notes)) }

// notesOf are notes on no figure by itself.
func notesOf(texts []string) []evaluate.Note {
	notes := make([]evaluate.Note, len(texts))
	for i, text := range texts {
		notes[i].Text = text
	}
	return notes
}
