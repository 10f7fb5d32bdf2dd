package document

import "html"

// Marking is a photograph that a reader chooses and marks positions on. It stays in the
// browser: its size and the positions go into fields, and what is drawn over it comes
// from Over.
type Marking struct {
	screenOnly
	Choose, Zoom string // labels
	Mark, Point  string // what positions are called, with {n}
	Over         string // places of a curve, "x,y x,y", m from the hold along the butt and down
}

func (b Marking) html(h *htmlWriter) {
	h.rawf("<div class=\"field\">\n<label for=\"photo-file\">%s</label>\n<input type=\"file\" id=\"photo-file\" accept=\"image/jpeg,image/png\">\n</div>\n", html.EscapeString(b.Choose))
	h.rawf("<div id=\"photo\" hidden data-mark=\"%s\" data-point=\"%s\">\n", html.EscapeString(b.Mark), html.EscapeString(b.Point))
	h.rawf("<div class=\"field\">\n<label for=\"photo-zoom\">%s</label>\n<input type=\"range\" id=\"photo-zoom\" min=\"1\" max=\"8\" step=\"0.5\" value=\"1\">\n</div>\n", html.EscapeString(b.Zoom))
	h.scroll(b.Choose)
	h.raw("<div class=\"board\"></div>\n</div>\n</div>\n")
	h.rawf("<div id=\"over\" data-anew data-places=\"%s\"></div>\n", html.EscapeString(b.Over))
}
