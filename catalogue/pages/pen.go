package pages

import (
	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// Pen draws the pictures of a range, all of them in the same words and units and
// of the same width.
type Pen struct {
	words          *say.Words
	display        figures.Display // in one system of units
	rods           *evaluate.Rods  // of the set
	comparer       *diffing.Comparer
	width, letters float64 // mm
	standard       bool    // makes working drawings, to the scales of ISO 5455 alone
}

// Labelled is a rod and what it is called in a picture: the label of its
// release, as a rule.
type Labelled struct {
	Label string
	*models.Spec
}

// Screen is the pen for pages on a screen. Its letters are more than nine pixels
// high where a picture is 320 pixels wide, as on a small telephone.
func Screen(w *say.Words, set *models.Settings) Pen { return newPen(w, set, 120, 3.4) }

// Print is the pen for sheets of A4 or Letter.
func Print(w *say.Words, set *models.Settings) Pen { return newPen(w, set, 174, 2.8) }

// Column is the pen for one of two columns on sheets of A4 or Letter.
func Column(w *say.Words, set *models.Settings) Pen { return newPen(w, set, 86, 2.4) }

// With gives the pen what compares the specs of the range, and their rods, so that
// nothing is compared or meshed again that was before.
func (p Pen) With(c *diffing.Comparer, rods *evaluate.Rods) Pen {
	p.comparer, p.rods = c, rods
	return p
}

// Standard is the pen for working drawings, to the scales of ISO 5455 alone.
func (p Pen) Standard() Pen {
	p.standard = true
	return p
}

func newPen(w *say.Words, set *models.Settings, width, letters float64) Pen {
	return Pen{words: w, display: w.Display(set).Single(""), rods: evaluate.NewRods(set), width: width, letters: letters}
}

// Widths of lines, mm.
const (
	thinLine  = 0.2
	usualLine = 0.35
	thickLine = 0.6
)

func (p Pen) say(path string, pairs ...string) string { return p.words.Say("pictures."+path, pairs...) }

// length writes a length with its unit, and number without.
func (p Pen) length(m float64) string { return p.display.Value("", "m", m) }

func (p Pen) number(m float64) string {
	return p.display.Column("", "m", m).Number(m)
}

// unit is that of number, as sentences have it behind "in".
func (p Pen) unit() string {
	if unit := p.display.Column("", "m", 1).Unit(); unit != "in" {
		return unit
	}
	return p.say("inches")
}

// place writes a distance as a tape shows it, in the unit of number.
func (p Pen) place(m float64) string {
	place, _ := p.display.Tape(m)
	return place
}

// ringSize is the number by which a ring is sold.
func (p Pen) ringSize(ring *models.Part) string {
	size := float64(ring.Size.Value)
	return p.display.Column("butt-ring-size", "m", size).Number(size)
}

// picture is an empty one; its height is set by close.
func (p Pen) picture(title, description string) *drawing.Picture {
	return &drawing.Picture{Title: title, Description: description, Width: p.width, Letters: p.letters}
}

// close ends a picture below all that is drawn in it.
func (p Pen) close(pic *drawing.Picture) *drawing.Picture {
	pic.Height = pic.Bounds().Max.Y + 1
	return pic
}

// label is a line of text whose anchor stands at a place on its baseline.
func (p Pen) label(x, y float64, anchor drawing.Anchor, text string) *drawing.Label {
	return &drawing.Label{At: drawing.Point{X: x, Y: y}, Text: text, Size: p.letters, Anchor: anchor}
}

// faint is a label of less weight.
func (p Pen) faint(x, y float64, anchor drawing.Anchor, text string) *drawing.Label {
	l := p.label(x, y, anchor, text)
	l.Ink = drawing.Faint
	return l
}

// bold is a label of more weight.
func (p Pen) bold(x, y float64, anchor drawing.Anchor, text string) *drawing.Label {
	l := p.label(x, y, anchor, text)
	l.Bold = true
	return l
}

// headed is the name of what is drawn below, and where words behind it begin.
func (p Pen) headed(x, y float64, name string) (label *drawing.Label, beyond float64) {
	return p.bold(x, y, drawing.Start, name), x + drawing.TextWidth(name, p.letters, true) + 0.6*p.letters
}

// hanging is a label that is read from below and hangs from a place.
func (p Pen) hanging(x, y float64, text string) *drawing.Label {
	l := p.label(x+0.36*p.letters, y, drawing.End, text) // half the height of a digit
	l.Turn = -90
	return l
}

// wide is how wide a text is, mm.
func (p Pen) wide(text string) float64 { return drawing.TextWidth(text, p.letters, false) }

// shortened is a text that is cut where it is wider.
func (p Pen) shortened(text string, width float64) string {
	return drawing.Cut(text, p.letters, width)
}

// margin is what stays free on either side of a picture, mm.
const margin = 1.5

// line is a straight line in an ink.
func line(x1, y1, x2, y2 float64, ink drawing.Ink, width float64) *drawing.Path {
	return drawing.Line(drawing.Point{X: x1, Y: y1}, drawing.Point{X: x2, Y: y2}, drawing.Style{Stroke: ink, Width: width})
}
