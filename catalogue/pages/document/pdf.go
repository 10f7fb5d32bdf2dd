package document

import (
	"fmt"
	"io"

	"codeberg.org/go-pdf/fpdf"

	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/visible"
)

// PDF writes the document with its fonts in it and its pictures as lines. The
// day it was made is the document's own.
func (d *Document) PDF(w io.Writer) error {
	p, pages, footer := d.laidOut(1)
	for scale := 0.95; d.Single && len(pages) > 1 && scale >= 0.4; scale -= 0.05 {
		p, pages, footer = d.laidOut(scale)
	}
	margin := p.paper.Margin()
	for n, page := range pages {
		for _, s := range page {
			for _, name := range s.anchors {
				p.pages[name] = n + 1
			}
		}
	}
	for n, page := range pages {
		p.out.AddPage()
		for _, s := range page {
			s.draw(margin, margin+s.top)
		}
		p.foot(footer, d.number(n+1, len(pages)))
	}
	return p.out.Output(w)
}

// laidOut is the document on its pages, with pictures so much smaller, and the lines at
// the foot of each.
func (d *Document) laidOut(scale float64) (p *pdfWriter, pages [][]placed, footer []textLine) {
	p = newPDF(d)
	p.scale = scale
	width := d.paper().TextWidth()
	strips := append(p.title(d), p.blocks(d.Blocks, width)...)
	strips = append(strips, spaced(p.flow(d.Reach(), quietLetters, width), gap)...)
	if d.number(1, 1) != "" { // beside it
		width -= 2 * writing
	}
	footer = p.lines(Plain(d.Footer), quietLetters, width)
	return p, paginate(strips, d.paper().TextHeight()-d.paper().tooHigh(footer)), footer
}

// pdfWriter lays out strips and draws them.
type pdfWriter struct {
	out     *fpdf.Fpdf
	paper   Paper
	anchors []anchor
	next    int            // of anchors
	links   map[string]int // the library's links, by the names of anchors
	pages   map[string]int // where anchors are, counted from 1, once that is known
	images  int            // so far
	scale   float64        // of pictures
}

func newPDF(d *Document) *pdfWriter {
	paper := d.paper()
	out := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: paper.Width, Ht: paper.Height}})
	out.SetAutoPageBreak(false, 0)
	out.SetMargins(paper.Margin(), paper.Margin(), paper.Margin())
	out.SetCatalogSort(true)
	out.SetCreationDate(d.Date)
	out.SetModificationDate(d.Date)
	out.SetProducer("rodlore", true)
	out.SetTitle(visible.String(d.Title), true)
	out.SetAuthor(visible.String(d.Author), true)
	out.SetLang(d.Lang())
	out.SetLineJoinStyle("round")
	p := &pdfWriter{out: out, paper: paper, anchors: anchors(d.Blocks), links: map[string]int{}, pages: map[string]int{}}
	for _, a := range p.anchors {
		p.links[a.id] = out.AddLink()
	}
	return p
}

// title is the head of the first page, unless a picture has that to itself.
func (p *pdfWriter) title(d *Document) []strip {
	if len(d.Blocks) > 0 {
		if _, ok := d.Blocks[0].(Leaf); ok {
			return nil
		}
	}
	const wide, high = 45., 14. // of a logo at most, mm
	width := p.paper.TextWidth()
	room, logo := width, strip{}
	if d.Logo() != nil {
		room -= min(wide, width/3) + gap
		logo = p.image(d.Logo(), min(wide, width/3), high)
	}
	strips := p.flow(Plain(d.Title), titleLetters, room)
	if d.Subtitle != "" {
		strips = append(strips, p.flow(Plain(d.Subtitle), quietLetters, room)...)
	}
	if logo.draw != nil && len(strips) > 0 {
		first := strips[0]
		strips[0].draw = func(x, y float64) {
			logo.draw(x+room+gap, y)
			first.draw(x, y)
		}
		strips[len(strips)-1].height += max(0, logo.height-heightOf(strips))
	}
	const rule = 3.
	return append(together(strips), strip{height: rule, draw: func(x, y float64) {
		p.rule(x, y+rule/2, width, drawing.Strong, 0.4)
	}})
}

func (d *Document) number(page, pages int) string {
	if d.Number == nil {
		return fmt.Sprintf("%d / %d", page, pages)
	}
	return d.Number(page, pages)
}

// below is where the lines at the foot of a page begin, mm under its text.
const below = 3.

// tooHigh is by how much the lines at the foot of a page are more than its margin has
// room for.
func (p Paper) tooHigh(footer []textLine) float64 {
	const edge = 4.5 // mm that printers leave blank (common practice, no source)
	lines := int((p.Margin() - below - edge) / quietLetters.lead)
	return quietLetters.lead * float64(max(0, len(footer)-lines))
}

// foot is what stands below the text of every page.
func (p *pdfWriter) foot(footer []textLine, page string) {
	l, width := quietLetters, p.paper.TextWidth()
	margin := p.paper.Margin()
	y := p.paper.Height - margin + below - p.paper.tooHigh(footer) + l.baseline()
	for _, number := range p.lines(Plain(page), l, width) { // one, or none
		p.line(number, l, margin+width-number.width, y)
	}
	for i, line := range footer {
		p.line(line, l, margin, y+float64(i)*l.lead)
	}
}

// gap is the space between blocks, and between what stands side by side, mm.
const gap = 3.

// rule draws a line across.
func (p *pdfWriter) rule(x, y, width float64, ink drawing.Ink, thick float64) {
	p.ink(ink, p.out.SetDrawColor)
	p.out.SetLineWidth(thick)
	p.out.Line(x, y, x+width, y)
}

// ink sets a colour of the library to an ink.
func (p *pdfWriter) ink(ink drawing.Ink, set func(r, g, b int)) {
	c, _ := ink.RGB()
	set(int(c.R), int(c.G), int(c.B))
}
