package document

import (
	"cmp"
	"math"
	"strings"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gobolditalic"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"

	"rodlore/catalogue/pages/drawing"
)

const (
	family = "go"
	point  = 25.4 / 72 // mm
)

// fonts by the library's names of styles.
var fonts = map[string][]byte{"": goregular.TTF, "B": gobold.TTF, "I": goitalic.TTF, "BI": gobolditalic.TTF}

// letters are how a text is set.
type letters struct {
	size   float64 // points
	lead   float64 // height of a line, mm
	bold   bool
	italic bool
	ink    drawing.Ink
}

func set(size, lead float64) letters {
	return letters{size: size, lead: size * lead * point, ink: drawing.Strong}
}

func (l letters) quiet() letters { l.ink = drawing.Faint; return l }

func (l letters) heavy() letters { l.bold = true; return l }

func (l letters) slanted() letters { l.italic = true; return l }

var (
	textLetters  = set(9, 1.42)
	tableLetters = set(8, 1.32)
	largeLetters = set(12, 1.0).heavy() // 12 pt within the lines of a table
	quietLetters = set(7.5, 1.33).quiet()
	titleLetters = set(19, 1.2).heavy()
)

// style is the library's name of a style.
func (l letters) style(s Span) string {
	style := ""
	if l.bold || s.Bold {
		style = "B"
	}
	if l.italic || s.Italic {
		style += "I"
	}
	return style
}

// use makes letters of that style and size the current ones.
func (p *pdfWriter) use(style string, size float64) {
	p.out.AddUTF8FontFromBytes(family, style, fonts[style]) // once
	p.out.SetFont(family, style, size)
}

// run is letters of one style within a word.
type run struct {
	text, style, link string
	width             float64
}

// word is what is not divided between lines where it can be helped.
type word struct {
	runs  []run
	width float64
	space float64 // before it, unless it begins a line
}

// textLine is one line of words.
type textLine struct {
	words []word
	width float64
}

// lines breaks a text into lines no wider than width.
func (p *pdfWriter) lines(t Text, l letters, width float64) []textLine {
	var lines []textLine
	for _, w := range p.words(t, l) {
		for _, w := range p.fitting(w, l, width) {
			if n := len(lines) - 1; n >= 0 && lines[n].width+w.space+w.width <= width+slack {
				lines[n].words = append(lines[n].words, w)
				lines[n].width += w.space + w.width
				continue
			}
			lines = append(lines, textLine{[]word{w}, w.width})
		}
	}
	return lines
}

// words parts a text at its spaces; those that hold words together are none.
func (p *pdfWriter) words(t Text, l letters) []word {
	var words []word
	apart := true // the next letters begin a word
	for _, s := range t {
		style := l.style(s)
		p.use(style, l.size)
		space := p.out.GetStringWidth(" ")
		for i, text := range strings.Split(oneLine.Replace(s.Text), " ") {
			apart = apart || i > 0
			if text == "" {
				continue
			}
			if apart {
				words = append(words, word{space: space})
			}
			text = printable(text)
			r := run{text, style, cmp.Or(s.Link, outward.FindString(s.Out)), p.out.GetStringWidth(text)}
			w := &words[len(words)-1]
			w.runs, w.width = append(w.runs, r), w.width+r.width
			apart = false
		}
	}
	return words
}

// fitting divides a word that is wider than a line.
func (p *pdfWriter) fitting(w word, l letters, width float64) []word {
	if w.width <= width+slack {
		return []word{w}
	}
	parts := []word{{space: w.space}}
	for _, r := range w.runs {
		p.use(r.style, l.size)
		for _, letter := range r.text {
			one := run{string(letter), r.style, r.link, p.out.GetStringWidth(string(letter))}
			last := &parts[len(parts)-1]
			if last.width+one.width > width && last.width > 0 {
				parts = append(parts, word{space: math.Inf(1)}) // on a line of its own
				last = &parts[len(parts)-1]
			}
			last.runs, last.width = append(last.runs, one), last.width+one.width
		}
	}
	return parts
}

// line draws a line of words; y is the baseline.
func (p *pdfWriter) line(line textLine, l letters, x, y float64) {
	p.ink(l.ink, p.out.SetTextColor)
	for i, w := range line.words {
		if i > 0 {
			x += w.space
		}
		for _, r := range w.runs {
			p.use(r.style, l.size)
			p.out.Text(x, y, r.text)
			p.link(r, x, y-l.size*point, l.size*point*1.2)
			x += r.width
		}
	}
}

// link makes a run lead where it should.
func (p *pdfWriter) link(r run, x, y, height float64) {
	name, inside := strings.CutPrefix(r.link, "#")
	switch id, known := p.links[name]; {
	case r.link == "":
	case !inside:
		p.out.LinkString(x, y, r.width, height, r.link)
	case known:
		p.out.Link(x, y, r.width, height, id)
	}
}

// flow lays a text out, a strip a line.
func (p *pdfWriter) flow(t Text, l letters, width float64) []strip {
	return p.stacked(p.lines(t, l, width), l)
}

// stacked puts lines below each other, none of them alone at the foot or at the
// top of a page.
func (p *pdfWriter) stacked(lines []textLine, l letters) []strip {
	strips := make([]strip, len(lines))
	for i, line := range lines {
		strips[i] = strip{
			height: l.lead,
			joined: len(lines) > 1 && (i == 0 || i == len(lines)-2),
			draw:   func(x, y float64) { p.line(line, l, x, y+l.baseline()) },
		}
	}
	return strips
}

// baseline is how far the baseline lies below the top of a line.
func (l letters) baseline() float64 {
	const rise = 0.35 // of the letters above the middle of their line
	return l.lead/2 + rise*l.size*point
}
