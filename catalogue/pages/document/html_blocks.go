package document

import (
	"html"

	"rodlore/catalogue/pages/drawing"
)

func (b Heading) html(h *htmlWriter) {
	a := h.anchors[h.next]
	h.next++
	h.rawf("<h%d id=\"%s\">%s</h%d>\n", b.Level, html.EscapeString(a.id), html.EscapeString(b.Text), b.Level)
}

func (b Paragraph) html(h *htmlWriter) { h.element("p", "", Text(b)) }

func (b List) html(h *htmlWriter) {
	name := "ul"
	if b.Ordered {
		name = "ol"
	}
	h.list(name, "", b.Items)
}

// The boxes are drawn by the style: a page keeps no ticks.
func (b Checklist) html(h *htmlWriter) { h.list("ul", "checklist", b.Items) }

func (h *htmlWriter) list(name, class string, items []Text) {
	h.open(name, class)
	h.raw("\n")
	for _, item := range items {
		h.element("li", "", item)
	}
	h.rawf("</%s>\n", name)
}

func (b Figure) html(h *htmlWriter) {
	h.raw("<figure>\n")
	h.picture(b.Picture)
	if b.captioned() {
		h.raw("<figcaption>\n")
		h.sentence(b.Caption)
		h.key(b.Picture.Key)
		h.sentence(Plain(b.Picture.Notes))
		h.raw("</figcaption>\n")
	}
	h.raw("</figure>\n")
}

// picture writes a picture in a box of its own. It grows with the letters of the
// reader, and where it is then wider than the screen the box scrolls.
func (h *htmlWriter) picture(p *drawing.Picture) {
	h.scroll(p.Title)
	h.out.Write(p.SVG())
	h.raw("</div>\n")
}

// scroll opens a box that scrolls, from the keyboard too.
func (h *htmlWriter) scroll(label string) {
	h.rawf("<div class=\"scroll\" role=\"group\" tabindex=\"0\" aria-label=\"%s\">\n", html.EscapeString(label))
}

func (h *htmlWriter) sentence(t Text) {
	if len(t) > 0 {
		h.element("p", "", t)
	}
}

func (h *htmlWriter) key(entries []drawing.Entry) {
	if len(entries) == 0 {
		return
	}
	h.raw("<ul class=\"key\">\n")
	for _, e := range entries {
		h.raw("<li>")
		if len(e.Sample) > 0 {
			h.out.Write(e.SVG())
		}
		h.raw(html.EscapeString(e.Text) + "</li>\n")
	}
	h.raw("</ul>\n")
}

// A leaf has its true size everywhere.
func (b Leaf) html(h *htmlWriter) {
	h.rawf("<figure class=\"leaf\" style=\"--width: %gmm\">\n", b.Picture.Width)
	h.picture(b.Picture)
	h.raw("</figure>\n")
}

func (b Quote) html(h *htmlWriter) {
	h.raw("<blockquote>\n")
	h.element("p", "", Text(b))
	h.raw("</blockquote>\n")
}

func (b Caution) html(h *htmlWriter) {
	h.raw("<div class=\"caution\">\n")
	h.element("p", "", Bold(b.Title))
	h.element("p", "", b.Text)
	h.raw("</div>\n")
}

func (b Terms) html(h *htmlWriter) {
	h.raw("<dl>\n")
	for _, t := range b {
		h.element("dt", "", Plain(t.Word))
		h.element("dd", "", t.Text)
	}
	h.raw("</dl>\n")
}

func (b Contents) html(h *htmlWriter) {
	h.rawf("<nav aria-label=\"%s\">\n", html.EscapeString(b.Title))
	h.element("p", "", Bold(b.Title))
	h.raw("<ol>\n")
	for _, a := range h.anchors {
		if a.Level == 2 {
			h.element("li", "", Text{{Text: a.Text, Link: "#" + a.id}})
		}
	}
	h.raw("</ol>\n</nav>\n")
}

func (b Details) html(h *htmlWriter) {
	h.raw("<details")
	if b.Choice {
		h.raw(" data-choice")
	}
	if b.Screen {
		h.raw(" data-screen")
	}
	if b.Open {
		h.raw(" open")
	}
	h.raw(">\n")
	h.element("summary", "", Plain(b.Summary))
	h.blocks(b.Blocks)
	h.raw("</details>\n")
}

func (b Beside) html(h *htmlWriter) {
	h.rawf("<div class=\"beside\" style=\"--left: %gfr; --right: %gfr\">\n", b.share(), 1-b.share())
	for _, column := range [][]Block{b.Left, b.Right} {
		h.raw("<div>\n")
		h.blocks(column)
		h.raw("</div>\n")
	}
	h.raw("</div>\n")
}
