package document

import (
	"fmt"
	"math"
	"slices"

	"rodlore/catalogue/pages/drawing"
)

// headingLetters by level.
var headingLetters = map[int]letters{2: set(12, 1.25).heavy(), 3: set(10, 1.3).heavy(), 4: set(9, 1.3).heavy()}

func (b Heading) pdf(p *pdfWriter, width float64) []strip {
	id := p.anchors[p.next].id
	p.next++
	strips := together(p.flow(Plain(b.Text), headingLetters[b.Level], width))
	if len(strips) == 0 {
		return nil
	}
	first := strips[0]
	strips[0].anchors = []string{id}
	strips[0].draw = func(x, y float64) {
		p.out.SetLink(p.links[id], y, -1)
		p.out.Bookmark(b.Text, b.Level-2, y)
		first.draw(x, y)
	}
	return spaced(strips, map[int]float64{2: 2.1 * gap, 3: 1.6 * gap, 4: gap}[b.Level])
}

func (b Paragraph) pdf(p *pdfWriter, width float64) []strip {
	return spaced(p.flow(Text(b), textLetters, width), gap*2/3)
}

func (b List) pdf(p *pdfWriter, width float64) []strip {
	return p.list(b.Items, width, func(i int, x, y float64) {
		bullet := "•"
		if b.Ordered {
			bullet = fmt.Sprintf("%d.", i+1)
		}
		p.line(p.lines(Plain(bullet), textLetters, width)[0], textLetters, x, y)
	})
}

func (b Checklist) pdf(p *pdfWriter, width float64) []strip {
	return p.list(b.Items, width, func(_ int, x, y float64) { p.box(x, y) })
}

// box draws a box to tick; y is the baseline of the text beside it.
func (p *pdfWriter) box(x, y float64) {
	const side = 2.8
	p.ink(drawing.Strong, p.out.SetDrawColor)
	p.out.SetLineWidth(0.2)
	p.out.Rect(x, y-side+0.3, side, side, "D")
}

// list lays items out with what mark draws before the first line of each.
func (p *pdfWriter) list(items []Text, width float64, mark func(i int, x, y float64)) []strip {
	const indent = 4.5
	var strips []strip
	for i, item := range items {
		lines := indented(p.flow(item, textLetters, width-indent), indent)
		if len(lines) == 0 {
			lines = []strip{{height: textLetters.lead, draw: func(float64, float64) {}}}
		}
		first := lines[0]
		lines[0].draw = func(x, y float64) {
			mark(i, x, y+textLetters.baseline())
			first.draw(x, y)
		}
		strips = append(strips, spaced(lines, gap/4)...)
	}
	return spaced(strips, gap*2/3)
}

// barred puts a bar at the left of every strip.
func (p *pdfWriter) barred(strips []strip, thick float64) []strip {
	strips = indented(strips, thick+gap)
	for i, s := range strips {
		strips[i].draw = func(x, y float64) {
			p.ink(drawing.Strong, p.out.SetFillColor)
			p.out.Rect(x, y, thick, s.height, "F")
			s.draw(x, y)
		}
	}
	return spaced(whole(strips), gap)
}

func (b Quote) pdf(p *pdfWriter, width float64) []strip {
	const thick = 0.4
	return p.barred(p.flow(Text(b), textLetters.slanted(), width-thick-gap), thick)
}

func (b Caution) pdf(p *pdfWriter, width float64) []strip {
	const thick = 1.2
	strips := p.flow(Plain(b.Title), textLetters.heavy(), width-thick-gap)
	return p.barred(append(strips, p.flow(b.Text, textLetters, width-thick-gap)...), thick)
}

func (b Terms) pdf(p *pdfWriter, width float64) []strip {
	var strips []strip
	for _, t := range b {
		strips = append(strips, spaced(together(p.flow(Plain(t.Word), textLetters.heavy(), width)), gap/2)...)
		strips = append(strips, indented(p.flow(t.Text, textLetters, width-gap), gap)...)
	}
	return spaced(strips, gap)
}

func (b Contents) pdf(p *pdfWriter, width float64) []strip {
	strips := spaced(together(p.flow(Plain(b.Title), headingLetters[3], width)), gap)
	for _, a := range p.anchors {
		if a.Level == 2 {
			strips = append(strips, whole(p.entry(a, width))...)
		}
	}
	return strips
}

// entry is a heading in the contents. On which page that is must be known when
// the last line of the entry is drawn.
func (p *pdfWriter) entry(a anchor, width float64) []strip {
	l := textLetters
	lines := p.lines(Text{{Text: a.Text, Link: "#" + a.id}}, l, width-writing)
	strips := p.stacked(lines, l)
	if len(strips) == 0 {
		return nil
	}
	n := len(strips) - 1
	last, words := strips[n], lines[n].width
	strips[n].draw = func(x, y float64) {
		last.draw(x, y)
		y += l.baseline()
		number := p.lines(Plain(fmt.Sprint(p.pages[a.id])), l, width)[0]
		p.line(number, l, x+width-number.width, y)
		p.out.SetDashPattern([]float64{0.2, 1.3}, 0)
		p.rule(x+words+gap/2, y, width-words-number.width-gap, drawing.Faint, 0.2)
		p.out.SetDashPattern(nil, 0)
	}
	return strips
}

func (b Details) pdf(p *pdfWriter, width float64) []strip {
	if b.Screen && !b.Open {
		p.next += len(headings(b.Blocks))
		return nil
	}
	strips := together(p.flow(Plain(b.Summary), textLetters.heavy(), width))
	return append(spaced(strips, gap), p.blocks(b.Blocks, width)...)
}

// What is too high for one page stands one below the other.
func (b Beside) pdf(p *pdfWriter, width float64) []strip {
	const apart = 8.
	wide := (width - apart) * b.LeftShare()
	first := p.next
	left, right := p.blocks(b.Left, wide), p.blocks(b.Right, width-apart-wide)
	height := math.Max(heightOf(left), heightOf(right))
	if height > p.paper.TextHeight() {
		p.next = first
		return p.blocks(slices.Concat(b.Left, b.Right), width)
	}
	both := strip{space: math.Max(spaceOf(left), spaceOf(right)), height: height, draw: func(x, y float64) {
		drawn(left, x, y)
		drawn(right, x+wide+apart, y)
	}}
	for _, s := range slices.Concat(left, right) {
		both.anchors = append(both.anchors, s.anchors...)
	}
	return []strip{both}
}

// drawn draws strips one below the other.
func drawn(strips []strip, x, y float64) {
	for i, s := range strips {
		if i > 0 {
			y += s.space
		}
		s.draw(x, y)
		y += s.height
	}
}
