package pages

import "rodlore/catalogue/pages/drawing"

// sign says what became of a ring.
type sign int

const (
	moved sign = iota // ▲
	other             // ●, another part in its place
	added             // +
	gone              // ×
)

// signSize is how far a sign reaches from its middle, mm.
const signSize = 0.9

// entry says in a key what a sign means.
func (what sign) entry(text string) drawing.Entry {
	return drawing.Entry{Sample: []drawing.Mark{what.at(4, 1.5)}, Text: text}
}

// at draws a sign about a place. It is drawn and not lettered, since letters of
// this kind look other in every font.
func (what sign) at(x, y float64) drawing.Mark {
	style := drawing.Style{Stroke: drawing.Series(1), Width: 1.3 * usualLine}
	corner := func(right, down float64) drawing.Point {
		return drawing.Point{X: x + right*signSize, Y: y + down*signSize}
	}
	switch what {
	case other:
		return &drawing.Circle{Centre: corner(0, 0), Radius: signSize, Style: drawing.Style{Fill: drawing.Series(1)}}
	case added:
		return &drawing.Group{Marks: []drawing.Mark{
			drawing.Line(corner(-1, 0), corner(1, 0), style), drawing.Line(corner(0, -1), corner(0, 1), style),
		}}
	case gone:
		return &drawing.Group{Marks: []drawing.Mark{
			drawing.Line(corner(-1, -1), corner(1, 1), style), drawing.Line(corner(-1, 1), corner(1, -1), style),
		}}
	}
	return &drawing.Path{
		Points: []drawing.Point{corner(0, -1), corner(1, 1), corner(-1, 1)}, Closed: true,
		Style: drawing.Style{Fill: drawing.Series(1)},
	}
}
