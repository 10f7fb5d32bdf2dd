package document

import (
	_ "embed"
	"fmt"
	"html"
	"strings"

	"rodlore/catalogue/pages/drawing"
)

//go:embed forms.css
var formStyle string

// TokenKey is the field of a form that writes with the Token of its page.
const TokenKey = "token"

// Form is what a reader fills in for the server that the page is Served by.
type Form struct {
	screenOnly
	Action  string // address
	ID      string // of the form
	Writes  bool   // sent as a POST; else its fields stand in the address
	Upload  bool   // with a file
	Hidden  [][2]string
	Blocks  []Block // with the fields among them
	Buttons []Button
}

// Printed is what a program printed, under the line that it was given.
type Printed struct {
	screenOnly
	Title, Text string
}

// Button sends its form, with a value of its own.
type Button struct{ Text, Name, Value string }

// Fields are fields side by side as far as there is room for them.
type Fields struct {
	screenOnly
	Legend string
	List   []Field
}

// Field is one thing to fill in.
type Field struct {
	Name, Label, Value string
	Kind               string   // as HTML has it; "" is text, and "select" and "textarea" their elements
	Options            []string // of a select; what a text may be, otherwise
	Fault              string   // what is wrong with the value
	Needed             bool
	Attributes         [][2]string // more of them
}

// Stage is a picture of a rod with a handle for each of its rings below it, which are
// moved along it by a pointer or the arrow keys. Without a script they do nothing.
type Stage struct {
	screenOnly
	Picture  *drawing.Picture
	From, To float64 // where butt end and tip are, as shares of the picture's width
	Length   float64 // of the rod, in the unit of the handles
	Handles  []Handle
}

// Handle moves the value of a field.
type Handle struct {
	Field string  // its name
	Label string  // what is moved
	At    float64 // from the tip
}

// Region is what a script fills anew from the server's answer.
type Region struct {
	screenOnly
	ID     string
	Live   bool // told to those who do not see it
	Blocks []Block
}

func (b Form) html(h *htmlWriter) {
	h.rawf("<form action=\"%s\"", html.EscapeString(b.Action))
	if b.ID != "" {
		h.rawf(" id=\"%s\"", html.EscapeString(b.ID))
	}
	if b.Writes {
		h.raw(` method="post"`)
	}
	if b.Upload {
		h.raw(` enctype="multipart/form-data"`)
	}
	h.raw(">\n")
	for _, pair := range b.Hidden {
		h.rawf("<input type=\"hidden\" name=\"%s\" value=\"%s\">\n", html.EscapeString(pair[0]), hidden(pair[1]))
	}
	if b.Writes {
		h.rawf("<input type=\"hidden\" name=\"%s\" value=\"%s\">\n", TokenKey, html.EscapeString(h.token))
	}
	h.blocks(b.Blocks)
	h.raw("<p class=\"buttons\">\n")
	for _, button := range b.Buttons {
		h.raw(`<button type="submit"`)
		if button.Name != "" {
			h.rawf(" name=\"%s\" value=\"%s\"", html.EscapeString(button.Name), html.EscapeString(button.Value))
		}
		h.rawf(">%s</button>\n", html.EscapeString(button.Text))
	}
	h.raw("</p>\n</form>\n")
}

// hidden keeps the line ends of a hidden value, which may be the text of a file.
func hidden(text string) string {
	return strings.NewReplacer("\n", "&#10;", "\r", "&#13;", "\t", "&#9;").Replace(html.EscapeString(text))
}

func (b Fields) html(h *htmlWriter) {
	if b.Legend != "" {
		h.rawf("<fieldset>\n<legend>%s</legend>\n", html.EscapeString(b.Legend))
		defer h.raw("</fieldset>\n")
	}
	h.raw("<div class=\"fields\">\n")
	for _, f := range b.List {
		f.html(h)
	}
	h.raw("</div>\n")
}

func (f Field) html(h *htmlWriter) {
	h.fields++
	id := fmt.Sprintf("field-%d", h.fields)
	common := fmt.Sprintf(" id=\"%s\" name=\"%s\"", id, html.EscapeString(f.Name))
	if f.Needed {
		common += " required"
	}
	if f.Fault != "" {
		common += fmt.Sprintf(" aria-invalid=\"true\" aria-describedby=\"%s-fault\"", id)
	}
	for _, a := range f.Attributes {
		common += fmt.Sprintf(" %s=\"%s\"", a[0], html.EscapeString(a[1]))
	}
	label := fmt.Sprintf("<label for=\"%s\">%s</label>\n", id, html.EscapeString(f.Label))
	if f.Kind == "checkbox" {
		h.rawf("<div class=\"field tick\">\n<input type=\"checkbox\"%s value=\"%s\">\n%s", common, html.EscapeString(f.Value), label)
	} else {
		h.raw("<div class=\"field\">\n" + label)
		f.input(h, common, id)
	}
	if f.Fault != "" {
		h.rawf("<p class=\"fault\" id=\"%s-fault\">%s</p>\n", id, html.EscapeString(f.Fault))
	}
	h.raw("</div>\n")
}

// input is the element that takes the value.
func (f Field) input(h *htmlWriter, common, id string) {
	switch {
	case f.Kind == "select":
		h.rawf("<select%s>\n", common)
		h.options(f.Options, f.Value)
		h.raw("</select>\n")
	case f.Kind == "textarea":
		h.rawf("<textarea rows=\"3\"%s>\n%s</textarea>\n", common, html.EscapeString(f.Value))
	default:
		kind := f.Kind
		if kind == "" {
			kind = "text"
		}
		if len(f.Options) > 0 {
			common += fmt.Sprintf(" list=\"%s-list\"", id)
		}
		h.rawf("<input type=\"%s\"%s value=\"%s\">\n", kind, common, html.EscapeString(f.Value))
		if len(f.Options) > 0 {
			h.rawf("<datalist id=\"%s-list\">\n", id)
			h.options(f.Options, "")
			h.raw("</datalist>\n")
		}
	}
}

func (h *htmlWriter) options(list []string, chosen string) {
	for _, text := range list {
		selected := ""
		if text == chosen && text != "" {
			selected = " selected"
		}
		h.rawf("<option value=\"%[1]s\"%[2]s>%[1]s</option>\n", html.EscapeString(text), selected)
	}
}

func (b Stage) html(h *htmlWriter) {
	h.raw("<figure class=\"stage\">\n")
	h.scroll(b.Picture.Title)
	h.out.Write(b.Picture.SVG())
	if len(b.Handles) > 0 {
		h.rawf("<div class=\"handles\" style=\"--from: %.4f; --to: %.4f\">\n", b.From, b.To)
		for _, one := range b.Handles {
			h.rawf("<input type=\"range\" dir=\"rtl\" min=\"0\" max=\"%g\" step=\"1\" value=\"%g\" data-field=\"%s\" aria-label=\"%s\">\n",
				b.Length, one.At, html.EscapeString(one.Field), html.EscapeString(one.Label))
		}
		h.raw("</div>\n")
	}
	h.raw("</div>\n</figure>\n")
}

func (b Printed) html(h *htmlWriter) {
	h.rawf("<p><code>%s</code></p>\n<pre>\n%s</pre>\n", html.EscapeString(b.Title), html.EscapeString(b.Text))
}

func (b Region) html(h *htmlWriter) {
	live := ""
	if b.Live {
		live = ` aria-live="polite"`
	}
	h.rawf("<div id=\"%s\"%s>\n", html.EscapeString(b.ID), live)
	h.blocks(b.Blocks)
	h.raw("</div>\n")
}

// screenOnly is what is nowhere but in HTML.
type screenOnly struct{}

func (screenOnly) markdown(*markdownWriter)        {}
func (screenOnly) pdf(*pdfWriter, float64) []strip { return nil }
