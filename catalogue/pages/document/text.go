package document

import (
	"html/template"
	"regexp"
	"strings"
)

// Text is a text whose parts are set apart from each other.
type Text []Span

// Span is a part of a text.
type Span struct {
	Text         string
	Bold, Italic bool
	Link         string // where to: "#ID" in this document, or another file; "" is no link
	Out          string // where to outside: an address with https:, mailto: or tel:; "" is no link
}

// Address is where a link leads. A file is named as one beside this, whatever its
// name: "javascript:x.html" would be a program.
func (s Span) Address() template.URL {
	if outward.MatchString(s.Out) {
		return template.URL(s.Out)
	}
	if strings.HasPrefix(s.Link, "#") || strings.HasPrefix(s.Link, "./") {
		return template.URL(s.Link)
	}
	return template.URL("./" + s.Link)
}

// outward are the addresses that a link out of the document may have.
var outward = regexp.MustCompile(`^(https?://|mailto:|tel:).*`)

// Linked reports whether a span leads somewhere.
func (s Span) Linked() bool { return s.Link != "" || outward.MatchString(s.Out) }

// Plain is a text without anything set apart.
func Plain(text string) Text {
	if text == "" {
		return nil
	}
	return Text{{Text: text}}
}

// Bold is a text in bold.
func Bold(text string) Text { return Text{{Text: text, Bold: true}} }

// String is the text alone.
func (t Text) String() string {
	var b strings.Builder
	for _, s := range t {
		b.WriteString(s.Text)
	}
	return b.String()
}

// Add adds a row of plain cells.
func (t *Table) Add(cells ...string) {
	row := make([]Text, len(cells))
	for i, c := range cells {
		row[i] = Plain(c)
	}
	t.Rows = append(t.Rows, row)
}

// oneLine keeps text on its line.
var oneLine = strings.NewReplacer("\r\n", " ", "\n", " ", "\r", " ", "\t", " ")
