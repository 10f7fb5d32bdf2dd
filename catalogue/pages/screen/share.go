package screen

import (
	"time"

	"github.com/skip2/go-qrcode"

	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/drawing"
)

// cell is the side of the smallest square of a code, mm: a camera an arm away reads it.
const cell = 1.5

// Share shows a link for phones in the same network as a QR code, and until when it
// leads here. By night the code is light on dark, which a reader has to take as well
// (ISO/IEC 18004:2015, reflectance reversal).
func (v *Views) Share(link string, until time.Time) (*document.Document, error) {
	code, err := qrcode.New(link, qrcode.Medium)
	if err != nil {
		return nil, err
	}
	cells := code.Bitmap()
	side := cell * float64(len(cells))
	p := &drawing.Picture{Title: v.Say("screen.code"), Description: link, Width: side, Height: side}
	p.Add(drawing.Rectangle(drawing.Box{Max: drawing.Point{X: side, Y: side}}, drawing.Style{Fill: drawing.Paper}))
	for i, row := range cells {
		for j := 0; j < len(row); j++ {
			from := j
			for j < len(row) && row[j] {
				j++
			}
			if j > from {
				p.Add(drawing.Rectangle(drawing.Box{
					Min: drawing.Point{X: cell * float64(from), Y: cell * float64(i)},
					Max: drawing.Point{X: cell * float64(j), Y: cell * float64(i+1)},
				}, drawing.Style{Fill: drawing.Strong}))
			}
		}
	}
	return v.document(v.Say("screen.share"), "", document.Figure{Picture: p},
		document.Paragraph{{Text: link}}, v.Paragraph("screen.shared", "until", until.Format("15:04")), links(v.link("all", address(RangeView)))), nil
}
