package document

import (
	"cmp"

	"rodlore/catalogue/pages/drawing"
)

// Block is one piece of a document, from top to bottom. In HTML it is written by the
// template of page.html that its type names.
type Block interface {
	markdown(*markdownWriter)
	pdf(p *pdfWriter, width float64) []strip
}

// Heading is a heading of level 2, 3 or 4: the title of the document is the
// first.
type Heading struct {
	Level int
	Text  string
	ID    string // to link to, as "#ID"; "" takes one from the text
}

// Paragraph is running text.
type Paragraph Text

// List is a list of short texts, numbered where Ordered.
type List struct {
	Items   []Text
	Ordered bool
}

// Checklist is a list of boxes to tick on paper.
type Checklist struct{ Items []Text }

// Table is a table. Every row has as many cells as there are columns.
type Table struct {
	Caption string // says what it holds; also to screen readers
	Columns []Column
	Rows    [][]Text
}

// Column is a column of a table.
type Column struct {
	Head  string // a column without one has cells that explain themselves
	Right bool   // numbers
	Large bool   // what is read in poor light
	Blank bool   // to be filled in by hand: wide enough to write in
}

// Figure is a picture with words under it: its caption, and what the picture
// says of itself. On paper it is no wider than drawn.
type Figure struct {
	Picture *drawing.Picture
	Caption Text // may be empty
}

// Captioned reports whether there are words under the picture.
func (b Figure) Captioned() bool {
	return len(b.Caption) > 0 || len(b.Picture.Key) > 0 || b.Picture.Notes != ""
}

// Leaf is a page of paper that a picture has to itself, at its true size.
type Leaf struct{ Picture *drawing.Picture }

// Quote is what somebody said.
type Quote Text

// Caution is what somebody may be hurt by.
type Caution struct {
	Title string
	Text  Text
}

// Terms explains words.
type Terms []Term

// Term is one word and what it means.
type Term struct {
	Word string
	Text Text
}

// Contents lists the headings of the second level.
type Contents struct{ Title string }

// Details is what not everybody wants to read: folded in HTML, open on paper.
type Details struct {
	Summary string
	Open    bool // unfolded at first
	Choice  bool // one of several beside each other, of which a reader unfolds what fits
	Screen  bool // left out on paper, but where a reader unfolded it before printing
	Blocks  []Block
}

// Beside is two columns where there is room for them; on paper they are not
// divided between pages.
type Beside struct {
	Left, Right []Block
	Share       float64 // of the width that is the left one's; 0 means half
}

// LeftShare is the share of the left column.
func (b Beside) LeftShare() float64 { return cmp.Or(b.Share, 0.5) }

// RightShare is that of the other.
func (b Beside) RightShare() float64 { return 1 - b.LeftShare() }
