package document

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html"
	"html/template"
	"io"
	"reflect"
	"strings"
	"sync"

	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/picture"
	"rodlore/catalogue/visible"
)

//go:embed style.css
var style string

//go:embed page.html
var markup string

// templates are those of a page and, by the names of their types, of its blocks.
var templates = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("").Funcs(template.FuncMap{
		"image": newImage, "hidden": hidden, "contents": contents,
		"svg": func(of interface{ SVG() []byte }) template.HTML { return template.HTML(of.SVG()) },
	}).Parse(markup))
})

// HTML writes the document as one page that needs nothing else, or else only the
// style sheet that it names.
func (d *Document) HTML(w io.Writer) error {
	var out bytes.Buffer
	if err := templates().ExecuteTemplate(&out, "document", page{d, &htmlWriter{Anchors: anchors(d.Blocks), Token: d.Token}}); err != nil {
		return err
	}
	// The library spells out a plus against what takes a page for UTF-7, and this one says what it is.
	_, err := io.WriteString(w, visible.String(strings.ReplaceAll(out.String(), "&#43;", "+")))
	return err
}

// htmlWriter counts what has been written of a page. What is exported of it, and of
// page, is for the templates.
type htmlWriter struct {
	Anchors []anchor
	next    int // of them
	fields  int // so far
	Token   string
}

// Write gives blocks, one below the other, in HTML.
func (h *htmlWriter) Write(blocks []Block) (template.HTML, error) {
	var out bytes.Buffer
	for _, b := range blocks {
		if err := templates().ExecuteTemplate(&out, reflect.TypeOf(b).Name(), blockWriter{h, b}); err != nil {
			return "", err
		}
	}
	return template.HTML(out.String()), nil
}

// blockWriter is a block that is being written.
type blockWriter struct {
	*htmlWriter
	Block Block
}

// Anchor is the name of the heading that is written next.
func (h *htmlWriter) Anchor() string {
	h.next++
	return h.Anchors[h.next-1].id
}

// Numbered gives a field a name of its own on the page. A button needs none.
func (h *htmlWriter) Numbered(f Field) numbered {
	if f.Kind != "submit" {
		h.fields++
	}
	return numbered{f, fmt.Sprintf("field-%d", h.fields)}
}

type numbered struct {
	Field
	ID string
}

// hidden is the value of a hidden field, which may be the text of a file and keeps its
// line ends.
func hidden(text string) template.HTMLAttr {
	text = strings.NewReplacer("\n", "&#10;", "\r", "&#13;", "\t", "&#9;").Replace(html.EscapeString(text))
	return template.HTMLAttr(`value="` + text + `"`)
}

// image is an image that stands in the page itself.
type image struct {
	*picture.Image
	Class, Shows string
}

func newImage(class string, m *picture.Image, shows string) image { return image{m, class, shows} }

// URL is all of the image.
func (m image) URL() template.URL {
	return template.URL("data:" + m.Kind + ";base64," + base64.StdEncoding.EncodeToString(m.Data))
}

// page is a document being written.
type page struct {
	*Document
	*htmlWriter
}

// Program is what stands in the script element. What ends the element must not,
// and never does in a program but inside a string (HTML Living Standard,
// 4.12.1.3).
func (p page) Program() template.JS {
	return template.JS("\n" + strings.ReplaceAll(p.Script, "</script", `<\/script`) + "\n")
}

// Policy is what a browser may take into the page (W3C, Content Security Policy
// Level 3): the page's own style, the images that stand
// in it, its own script, known by its hash, what its server
// gives, and nothing else. A script that got in by a name or a remark would not run.
func (p page) Policy() template.HTMLAttr {
	forms, images, scripts := "'none'", "data:", ""
	if p.Served != "" {
		forms, images, scripts = "'self'; connect-src 'self'", "'self' blob: data:", " 'self'"
	}
	policy := "default-src 'none'; base-uri 'none'; form-action " + forms + "; img-src " + images + "; style-src 'unsafe-inline'"
	if p.Style != "" {
		policy += " 'self' file:"
	}
	if p.Script != "" {
		sum := sha256.Sum256([]byte(p.Program()))
		scripts += " 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	if scripts != "" {
		policy += "; script-src" + scripts
	}
	return template.HTMLAttr(`content="` + policy + `"`)
}

// Sheet is the style sheet within the page.
func (p page) Sheet() template.CSS { return template.CSS(p.CSS()) }

// CSS is the style sheet of the document's HTML.
func (d *Document) CSS() string {
	sheet := fmt.Sprintf("@page { size: %s; margin: %gmm }\n", d.paper().Name, d.paper().Margin()) + drawing.CSS() + style + d.Face.css()
	if d.Served != "" {
		sheet += formStyle
	}
	return sheet
}
