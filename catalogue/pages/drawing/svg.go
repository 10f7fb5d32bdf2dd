package drawing

import (
	"bytes"
	"encoding/xml"
	"math"
	"strconv"
	"strings"
)

// SVG is the picture as an element to stand in a page that has CSS. On paper it
// has its true size; on a screen it is no wider than its column. The same
// picture gives the same bytes.
func (p *Picture) SVG() []byte {
	marks := svg{letters: p.Letters}
	for _, m := range written(p.Marks) {
		m.write(&marks)
	}
	var w svg
	w.open("svg")
	w.text("class", "picture")
	w.text("role", "img")
	w.text("viewBox", "0 0 "+number(p.Width)+" "+number(p.Height))
	w.text("width", number(p.Width)+"mm")
	w.text("height", number(p.Height)+"mm")
	if marks.lettered {
		w.number("font-size", p.Letters)
	}
	w.WriteString(">\n")
	w.words("title", p.Title)
	if p.Description != "" {
		w.words("desc", p.Description)
	}
	w.Write(marks.Bytes())
	w.WriteString("</svg>\n")
	return w.Bytes()
}

// SVG is the sample as an element to stand before its text, which says all that
// there is to say.
func (e Entry) SVG() []byte {
	var w svg
	w.open("svg")
	w.text("class", "sample")
	w.text("aria-hidden", "true")
	w.text("viewBox", "0 0 "+number(SampleWidth)+" "+number(SampleHeight))
	w.WriteString(">")
	for _, m := range written(e.Sample) {
		m.write(&w)
	}
	w.WriteString("</svg>")
	return w.Bytes()
}

// svg is an SVG in the making. What most marks have alike is said once: by the
// style sheet or by the picture.
type svg struct {
	bytes.Buffer
	letters  float64 // size of the letters, mm, where a label does not say another
	lettered bool    // whether there are any
}

// usualWidth is that of lines that do not say another.
const usualWidth = 0.2

func (w *svg) open(element string) { w.WriteString("<" + element) }

// text writes an attribute; an empty one is left out.
func (w *svg) text(name, value string) {
	if value != "" {
		w.WriteString(" " + name + `="`)
		w.escape(value)
		w.WriteByte('"')
	}
}

func (w *svg) number(name string, v float64) { w.text(name, number(v)) }

// words writes an element that holds text alone.
func (w *svg) words(element, text string) {
	w.WriteString("<" + element + ">")
	w.escape(text)
	w.WriteString("</" + element + ">\n")
}

func (w *svg) escape(text string) { _ = xml.EscapeText(w, []byte(text)) } // a buffer takes all

// number writes mm to the hundredth, without zeros behind.
func number(v float64) string {
	v = math.Round(v*100) / 100
	return strconv.FormatFloat(v+0, 'f', -1, 64) // + 0 makes of −0 a plain 0
}

func (p *Path) write(w *svg) { (&run{[]*Path{p}}).write(w) }

func (c *Circle) write(w *svg) {
	w.open("circle")
	w.text("id", c.ID)
	w.number("cx", c.Centre.X)
	w.number("cy", c.Centre.Y)
	w.number("r", c.Radius)
	w.style(c.Style)
	w.WriteString("/>\n")
}

// style writes what a path or circle is painted in.
func (w *svg) style(s Style) {
	fillClass, fill := s.Fill.paint("fill-")
	lineClass, stroke := s.Stroke.paint("line-")
	w.text("class", strings.TrimSpace(fillClass+" "+lineClass))
	w.text("fill", fill)
	w.text("stroke", stroke)
	if s.Stroke != None {
		if s.Width != usualWidth {
			w.number("stroke-width", s.Width)
		}
		w.text("stroke-dasharray", dashes(s.Dash))
	}
	if s.Opacity != 0 && s.Opacity != 1 {
		w.number("opacity", s.Opacity)
	}
}

// paint is how an ink is written: as the class that CSS has for it or, where it
// is not themed, as its colour on light and on dark ground (CSS Color 5, 4.2).
func (i Ink) paint(kind string) (class, colour string) {
	c, ok := i.RGB()
	switch dark := c.onDark(); {
	case !ok:
		return "", ""
	case i >= own && dark != c:
		return "", "light-dark(" + c.hex() + "," + dark.hex() + ")"
	case i >= own:
		return "", c.hex()
	}
	return kind + palette[i].name, ""
}

func dashes(lengths []float64) string {
	var d string
	for i, v := range lengths {
		if i > 0 {
			d += " "
		}
		d += number(v)
	}
	return d
}

func (l *Label) write(w *svg) {
	w.lettered = true
	w.open("text")
	w.text("id", l.ID)
	w.number("x", l.At.X)
	w.number("y", l.At.Y)
	if l.Size != w.letters {
		w.number("font-size", l.Size)
	}
	w.text("text-anchor", [...]string{Start: "", Middle: "middle", End: "end"}[l.Anchor])
	if l.Turn != 0 {
		w.text("transform", "rotate("+number(l.Turn)+" "+number(l.At.X)+" "+number(l.At.Y)+")")
	}
	var class, fill string
	if l.Ink != None && l.Ink != Strong {
		class, fill = l.Ink.paint("fill-")
	}
	if l.Bold {
		class = strings.TrimSpace(class + " bold")
	}
	w.text("class", class)
	w.text("fill", fill)
	w.WriteByte('>')
	w.escape(l.Text)
	w.WriteString("</text>\n")
}

func (g *Group) write(w *svg) {
	w.open("g")
	w.text("id", g.ID)
	w.WriteString(">\n")
	if g.Title != "" {
		w.words("title", g.Title)
	}
	for _, m := range written(g.Marks) {
		m.write(w)
	}
	w.WriteString("</g>\n")
}
