package document

import (
	"cmp"
	"time"
)

// Document is one document.
type Document struct {
	Title    string // the one heading of the first level
	Subtitle string
	Author   string    // who speaks, the maker
	Face     *Face     // how they look and are reached; nil says nothing of it
	Language string    // BCP 47, "en-GB"; "" means that
	Date     time.Time // of what it says; PDF keeps it as the day it was made
	Paper    Paper     // for print; the zero Paper is A4
	// Number says on every page of a PDF which of how many it is; nil gives "1 / 4", "" nothing.
	Number func(page, pages int) string
	Footer string // at the foot of every page of paper, and once in HTML and Markdown
	Blocks []Block
	Single bool   // on one page of paper, with smaller pictures if need be
	Style  string // file beside the HTML with the style sheet that CSS gives; "" puts it into the page
	Script string // JavaScript at the end of HTML; what matters must be there without it
	// Served is the address of a script that the server of the page gives. It may ask
	// that server, and forms may go there; "" is a page that asks nobody.
	Served string
	Far    bool   // is read from further away, so that a screen has larger letters
	Token  string // by which that server knows the forms of its own pages
}

// Lang is the language that the document is in.
func (d *Document) Lang() string { return cmp.Or(d.Language, "en-GB") }

func (d *Document) paper() Paper { return cmp.Or(d.Paper, A4) }

// Paper is a size of paper, upright, in mm.
type Paper struct {
	Name          string // as CSS has it
	Width, Height float64
}

var (
	// A4 is that of ISO 216:2007.
	A4 = Paper{"A4", 210, 297}
	// A5 and A6 are those of ISO 216:2007.
	A5 = Paper{"A5", 148, 210}
	A6 = Paper{"A6", 105, 148}
	// Letter is 8½ by 11 inches.
	Letter = Paper{"letter", 215.9, 279.4}
)

// Margin is how far text keeps from the edges of paper, in mm: up to 15, and on small
// paper a part of its width. Printers leave up to 6 mm of an edge blank (common
// practice, no source).
func (p Paper) Margin() float64 { return min(15, p.Width/13) }

// TextWidth is the width between the margins, in mm.
func (p Paper) TextWidth() float64 { return p.Width - 2*p.Margin() }

// TextHeight is the height between the margins, in mm.
func (p Paper) TextHeight() float64 { return p.Height - 2*p.Margin() }
