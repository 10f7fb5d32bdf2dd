package models

import (
	"slices"

	"gopkg.in/yaml.v3"
)

// sameWraps reads the turns of a ply as one number for both ends.
func sameWraps() reader[Ply] {
	return number(func(p *Ply) *float64 { return &p.TipWraps }, upTo("100")).then(func(_ value, p *Ply) { p.ButtWraps = p.TipWraps })
}

// sections reads the names of the two sections that a joint joins.
func sections() reader[Joint] {
	const expected = "the names of two sections such as [butt, tip]"
	return reader[Joint]{
		expect: expected,
		read: func(v value, j *Joint) {
			if v.node.Kind != yaml.SequenceNode || len(v.node.Content) != 2 {
				v.fault("is %s; expected %s", describe(v.node), expected)
				return
			}
			for i, n := range v.node.Content {
				entry := value{v.doc, n, v.path}
				if text, ok := entry.text(expected); ok && entry.nameable(text) {
					j.Between[i] = Word{text, entry.pos()}
				}
			}
		},
	}
}

// words reads a list of words, each given once.
func words[T any](get func(*T) *[]Word, expected string) reader[T] {
	return reader[T]{
		expect: expected,
		read: func(v value, into *T) {
			listed := v.listed(expected, maxEntries)
			if listed == nil {
				return
			}
			var found []Word
			for _, n := range listed {
				entry := value{v.doc, n, v.path}
				text, ok := entry.text(expected)
				switch {
				case !ok:
				case slices.ContainsFunc(found, func(w Word) bool { return w.Text == text }):
					entry.fault("%q is given twice", text)
				default:
					found = append(found, Word{text, entry.pos()})
				}
			}
			*get(into) = found
		},
	}
}
