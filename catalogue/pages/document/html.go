package document

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html"
	"io"
	"strings"

	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/visible"
)

//go:embed style.css
var style string

// HTML writes the document as one page that needs nothing else, or else only the
// style sheet that it names.
func (d *Document) HTML(w io.Writer) error {
	h := &htmlWriter{anchors: anchors(d.Blocks), token: d.Token}
	h.head(d)
	h.raw("<body>\n<header>\n")
	if logo := d.logo(); logo != nil {
		h.image("logo", logo, d.Author)
	}
	h.element("h1", "", Plain(d.Title))
	if d.Subtitle != "" {
		h.element("p", "subtitle", Plain(d.Subtitle))
	}
	h.raw("</header>\n<main>\n")
	h.blocks(d.Blocks)
	h.raw("</main>\n")
	if reach := d.reach(); d.Footer != "" || reach != nil {
		h.raw("<footer>\n")
		if reach != nil {
			h.element("address", "", reach)
		}
		h.sentence(Plain(d.Footer))
		h.raw("</footer>\n")
	}
	if d.Script != "" {
		h.raw("<script>" + d.script() + "</script>\n")
	}
	if d.Served != "" {
		h.rawf("<script src=\"%s\"></script>\n", html.EscapeString(d.Served))
	}
	h.raw("</body>\n</html>\n")
	_, err := io.WriteString(w, visible.String(h.out.String()))
	return err
}

// htmlWriter gathers a page.
type htmlWriter struct {
	out     bytes.Buffer
	anchors []anchor
	next    int // of anchors
	fields  int // so far
	token   string
}

func (h *htmlWriter) raw(markup string) { h.out.WriteString(markup) }

func (h *htmlWriter) rawf(format string, args ...any) { fmt.Fprintf(&h.out, format, args...) }

// script is what stands in the script element. What ends the element must not,
// and never does in a program but inside a string (HTML Living Standard,
// 4.12.1.3).
func (d *Document) script() string {
	return "\n" + strings.ReplaceAll(d.Script, "</script", `<\/script`) + "\n"
}

// policy is what a browser may take into the page (W3C, Content Security Policy
// Level 3): the page's own style, the images that stand
// in it, its own script, known by its hash, what its server
// gives, and nothing else. A script that got in by a name or a remark would not run.
func (d *Document) policy() string {
	forms, images, scripts := "'none'", "data:", ""
	if d.Served != "" {
		forms, images, scripts = "'self'; connect-src 'self'", "'self' blob: data:", " 'self'"
	}
	policy := "default-src 'none'; base-uri 'none'; form-action " + forms + "; img-src " + images + "; style-src 'unsafe-inline'"
	if d.Style != "" {
		policy += " 'self' file:"
	}
	if d.Script != "" {
		sum := sha256.Sum256([]byte(d.script()))
		scripts += " 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	if scripts != "" {
		policy += "; script-src" + scripts
	}
	return policy
}

// head writes everything before the body.
func (h *htmlWriter) head(d *Document) {
	class := ""
	if d.Far {
		class = ` class="far"`
	}
	h.rawf("<!DOCTYPE html>\n<html lang=\"%s\"%s>\n<head>\n<meta charset=\"utf-8\">\n", html.EscapeString(d.language()), class)
	h.rawf("<meta http-equiv=\"Content-Security-Policy\" content=\"%s\">\n", d.policy())
	h.raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n")
	h.raw("<meta name=\"color-scheme\" content=\"light dark\">\n")
	if d.Author != "" {
		h.rawf("<meta name=\"author\" content=\"%s\">\n", html.EscapeString(d.Author))
	}
	h.rawf("<title>%s</title>\n", html.EscapeString(d.Title))
	if d.Style != "" {
		h.rawf("<link rel=\"stylesheet\" href=\"%s\">\n</head>\n", html.EscapeString(d.Style))
		return
	}
	h.raw("<style>\n" + d.CSS() + "</style>\n</head>\n")
}

// CSS is the style sheet of the document's HTML.
func (d *Document) CSS() string {
	sheet := fmt.Sprintf("@page { size: %s; margin: %gmm }\n", d.paper().Name, d.paper().Margin()) + drawing.CSS() + style + d.Face.css()
	if d.Served != "" {
		sheet += formStyle
	}
	return sheet
}

// blocks writes blocks one below the other.
func (h *htmlWriter) blocks(blocks []Block) {
	for _, b := range blocks {
		b.html(h)
	}
}

// element writes one element with a text in it.
func (h *htmlWriter) element(name, class string, t Text) {
	h.open(name, class)
	h.text(t)
	h.rawf("</%s>\n", name)
}

func (h *htmlWriter) open(name, class string) {
	if class != "" {
		name += fmt.Sprintf(" class=\"%s\"", class)
	}
	h.rawf("<%s>", name)
}

// text writes a text within an element.
func (h *htmlWriter) text(t Text) {
	for _, s := range t {
		before, after := "", ""
		for _, m := range s.marks() {
			before, after = before+m.open, m.end+after
		}
		h.raw(before + html.EscapeString(s.Text) + after)
	}
}

// mark is an element around a span.
type mark struct{ open, end string }

func (s Span) marks() []mark {
	var list []mark
	if s.linked() {
		list = append(list, mark{fmt.Sprintf("<a href=\"%s\">", html.EscapeString(s.address())), "</a>"})
	}
	if s.Bold {
		list = append(list, mark{"<strong>", "</strong>"})
	}
	if s.Italic {
		list = append(list, mark{"<em>", "</em>"})
	}
	return list
}
