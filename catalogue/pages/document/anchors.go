package document

import (
	"fmt"
	"strings"
	"unicode"
)

// anchor is a heading with the name to link to it by.
type anchor struct {
	Heading
	id    string
	given bool // and not what a reader of Markdown makes of the text
}

// anchors are the headings of a document in their order, each with a name of
// its own.
func anchors(blocks []Block) []anchor {
	var list []anchor
	taken := map[string]bool{}
	for _, h := range headings(blocks) {
		a := anchor{Heading: h, id: h.ID, given: h.ID != ""}
		if !a.given {
			a.id = slug(h.Text)
		}
		for base, n := a.id, 1; taken[a.id]; n++ {
			a.id = fmt.Sprintf("%s-%d", base, n)
		}
		taken[a.id] = true
		list = append(list, a)
	}
	return list
}

// contents are links to the headings of the second level.
func contents(anchors []anchor) (items []Text) {
	for _, a := range anchors {
		if a.Level == 2 {
			items = append(items, Text{{Text: a.Text, Link: "#" + a.id}})
		}
	}
	return items
}

// headings are all headings, also those within other blocks.
func headings(blocks []Block) []Heading {
	var list []Heading
	for _, b := range blocks {
		switch b := b.(type) {
		case Heading:
			list = append(list, b)
		case Details:
			list = append(list, headings(b.Blocks)...)
		case Beside:
			list = append(list, headings(b.Left)...)
			list = append(list, headings(b.Right)...)
		}
	}
	return list
}

// slug makes a name of a heading's text as readers of Markdown commonly do:
// small letters and digits, hyphens for spaces, nothing else (common practice,
// no source).
func slug(text string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(text) {
		switch {
		case unicode.IsLetter(r), unicode.IsDigit(r), r == '-', r == '_':
			b.WriteRune(r)
		case r == ' ':
			b.WriteByte('-')
		}
	}
	if b.Len() == 0 {
		return "part"
	}
	return b.String()
}
