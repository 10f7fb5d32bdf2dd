package document

import (
	"math"

	"rodlore/catalogue/pages/drawing"
)

// A figure is as large as it is drawn, or as its column and page allow.
func (b Figure) pdf(p *pdfWriter, width float64) []strip {
	caption := p.flow(b.Caption, quietLetters, width)
	caption = append(caption, p.key(b.Picture.Key, width)...)
	caption = append(caption, p.flow(Plain(b.Picture.Notes), quietLetters, width)...)
	room := p.paper.TextHeight() - heightOf(caption) - gap
	scale := p.scale * math.Min(1, math.Min(width/b.Picture.Width, room/b.Picture.Height))
	picture := strip{
		height: scale * b.Picture.Height, joined: len(caption) > 0,
		draw: func(x, y float64) { pen{p, x, y, scale}.marks(b.Picture.Marks) },
	}
	return spaced(append([]strip{picture}, whole(spaced(caption, gap/3))...), gap)
}

// key lays out what the parts of a picture mean, beside each other as far as they
// fit.
func (p *pdfWriter) key(entries []drawing.Entry, width float64) []strip {
	const scale, apart = 0.9, 1. // of samples, and from their text, mm
	l := quietLetters
	var strips []strip
	x := math.Inf(1) // where the row has come to
	for _, e := range entries {
		indent := 0.
		if len(e.Sample) > 0 {
			indent = scale*drawing.SampleWidth + apart
		}
		lines := p.lines(Plain(e.Text), l, width-indent)
		if len(lines) == 0 {
			continue
		}
		entry := indented(p.stacked(lines, l), indent)
		first := entry[0]
		entry[0].draw = func(x, y float64) {
			pen{p, x, y + (l.lead-scale*drawing.SampleHeight)/2, scale}.marks(e.Sample)
			first.draw(x, y)
		}
		if wide := indent + lines[0].width; len(lines) == 1 && x+wide <= width {
			row, at := strips[len(strips)-1], x
			strips[len(strips)-1].draw = func(x, y float64) {
				row.draw(x, y)
				entry[0].draw(x+at, y)
			}
			x += wide + 2*gap
			continue
		}
		x = indent + lines[0].width + 2*gap
		if len(lines) > 1 {
			x = math.Inf(1)
		}
		strips = append(strips, entry...)
	}
	return strips
}

func (b Leaf) pdf(p *pdfWriter, width float64) []strip {
	return []strip{{
		opens: true, height: p.paper.TextHeight(),
		draw: func(x, y float64) { pen{p, x + (width-b.Picture.Width)/2, y, 1}.marks(b.Picture.Marks) },
	}}
}

// pen draws marks on a page.
type pen struct {
	*pdfWriter
	x, y  float64 // where the picture's corner lies, mm
	scale float64
}

func (p pen) at(q drawing.Point) (x, y float64) { return p.x + p.scale*q.X, p.y + p.scale*q.Y }

func (p pen) marks(marks []drawing.Mark) {
	for _, m := range marks {
		switch m := m.(type) {
		case *drawing.Path:
			p.painted(m.Style, func(how string) { p.path(m, how) })
		case *drawing.Circle:
			x, y := p.at(m.Centre)
			p.painted(m.Style, func(how string) { p.out.Circle(x, y, p.scale*m.Radius, how) })
		case *drawing.Label:
			p.label(m)
		case *drawing.Group:
			p.marks(m.Marks)
		}
	}
}

// painted draws with a style: how is the library's word for line, area or both.
func (p pen) painted(s drawing.Style, draw func(how string)) {
	how := ""
	if _, ok := s.Fill.RGB(); ok {
		p.ink(s.Fill, p.out.SetFillColor)
		how = "F"
	}
	if _, ok := s.Stroke.RGB(); ok {
		p.ink(s.Stroke, p.out.SetDrawColor)
		p.out.SetLineWidth(p.scale * s.Width)
		how += "D"
	}
	if how == "" {
		return
	}
	if s.Opacity != 0 {
		p.out.SetAlpha(s.Opacity, "Normal")
		defer p.out.SetAlpha(1, "Normal")
	}
	if len(s.Dash) > 0 {
		dash := make([]float64, len(s.Dash))
		for i, d := range s.Dash {
			dash[i] = p.scale * d
		}
		p.out.SetDashPattern(dash, 0)
		defer p.out.SetDashPattern(nil, 0)
	}
	draw(how)
}

func (p pen) path(m *drawing.Path, how string) {
	if len(m.Points) == 0 {
		return
	}
	p.out.MoveTo(p.at(m.Points[0]))
	for _, q := range m.Points[1:] {
		p.out.LineTo(p.at(q))
	}
	if m.Closed {
		p.out.ClosePath()
	}
	p.out.DrawPath(how)
}

func (p pen) label(m *drawing.Label) {
	l := letters{size: p.scale * m.Size / point, bold: m.Bold, ink: m.Ink}
	if m.Ink == drawing.None {
		l.ink = drawing.Strong
	}
	text := printable(m.Text)
	p.use(l.style(Span{}), l.size)
	p.ink(l.ink, p.out.SetTextColor)
	x, y := p.at(m.At)
	if m.Turn != 0 {
		p.out.TransformBegin()
		defer p.out.TransformEnd()
		p.out.TransformRotate(-m.Turn, x, y) // the library turns the other way round
	}
	before := map[drawing.Anchor]float64{drawing.Start: 0, drawing.Middle: 0.5, drawing.End: 1}[m.Anchor]
	p.out.Text(x-before*p.out.GetStringWidth(text), y, text)
}
