package document

import (
	"bytes"
	"fmt"

	"codeberg.org/go-pdf/fpdf"

	"rodlore/catalogue/picture"
)

// Face is how the one who speaks looks and is reached.
type Face struct {
	Logo  *picture.Image // nil for none
	Reach []Text         // lines: name, address, phone
	// Accent is a CSS colour of what stands out, OnDark the same on dark ground; ""
	// leaves both to the style.
	Accent, OnDark string
}

// css sets the colours of the face.
func (f *Face) css() string {
	if f == nil || f.Accent == "" {
		return ""
	}
	return fmt.Sprintf(":root{--link:%[1]s;--accent:%[1]s}@media screen and (prefers-color-scheme:dark){:root{--link:%[2]s;--accent:%[2]s}}\n", f.Accent, f.OnDark)
}

// Logo is that of the document; nil where it has none.
func (d *Document) Logo() *picture.Image {
	if d.Face == nil {
		return nil
	}
	return d.Face.Logo
}

// Reach is in one line who speaks and how to reach them; nil where nothing says so.
func (d *Document) Reach() (line Text) {
	if d.Face == nil {
		return nil
	}
	for i, t := range d.Face.Reach {
		if i > 0 {
			line = append(line, Span{Text: " · "})
		}
		line = append(line, t...)
	}
	return line
}

// Photo is a photograph, no wider than its column.
type Photo struct {
	Image *picture.Image
	Shows string // what one sees
}

func (b Photo) markdown(m *markdownWriter) {
	m.block("> " + inline(Text{{Text: b.Shows, Italic: true}}))
}

func (b Photo) pdf(p *pdfWriter, width float64) []strip {
	const wide, high = 90., 45. // mm at most, as on the paper of a browser
	return spaced([]strip{p.image(b.Image, min(width, wide), high)}, gap)
}

// image lays an image out no larger than so many mm.
func (p *pdfWriter) image(m *picture.Image, width, high float64) strip {
	by := min(width/float64(m.Width), high/float64(m.Height))
	w, h := by*float64(m.Width), by*float64(m.Height)
	return strip{height: h, draw: func(x, y float64) {
		data, kind := m.Data, "JPG"
		if m.Print != nil {
			data = m.Print
		}
		if m.Kind != "image/jpeg" {
			kind = "PNG"
		}
		p.images++
		name := fmt.Sprint(p.images)
		p.out.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: kind}, bytes.NewReader(data))
		p.out.ImageOptions(name, x, y, w, h, false, fpdf.ImageOptions{ImageType: kind}, 0, "")
	}}
}
