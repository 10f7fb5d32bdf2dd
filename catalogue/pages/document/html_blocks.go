package document

import "html"

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
	h.out.Write(b.Picture.SVG())
	h.raw("\n")
	if len(b.Caption) > 0 {
		h.element("figcaption", "", b.Caption)
	}
	h.raw("</figure>\n")
}

// A leaf is as wide on the screen as there is room, and on paper as drawn.
func (b Leaf) html(h *htmlWriter) {
	h.rawf("<figure class=\"leaf\" style=\"--width: %gmm\">\n", b.Picture.Width)
	h.out.Write(b.Picture.SVG())
	h.raw("\n</figure>\n")
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
	h.raw("<details>\n")
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
