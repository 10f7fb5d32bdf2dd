package document

import (
	_ "embed"
	"encoding/json"
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
	Ask     string // the address that a script asks what to show anew, where that is another
	Hidden  [][2]string
	Blocks  []Block // with the fields among them
	Buttons []Button
}

// Ways are links to other pages of the server, which lead nowhere on paper.
type Ways struct {
	screenOnly
	Links Text
}

// Printed is what a program printed, and the command line it was given. Its lines are
// broken to fit.
type Printed struct {
	screenOnly
	Title, Text string
	Columns     bool // its lines stand below each other, letter by letter
}

// Button sends its form, with a value of its own.
type Button struct{ Text, Name, Value string }

// Fields are fields side by side as far as there is room for them.
type Fields struct {
	screenOnly
	Legend string
	List   []Field
}

// Offered are texts that fields offer, by the ID as their attribute list.
type Offered struct {
	screenOnly
	ID      string
	Options []string
}

// Field is one thing to fill in.
type Field struct {
	Name, Label, Value string
	Kind               string   // as HTML has it; "" is text, and "select" and "textarea" their elements, "submit" a button
	Options            []string // of a select
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
	Unit     string  // of the handles, as fields have it
	Length   float64 // of the rod, in that unit
	Handles  []Handle
}

// Handle moves the value of a field.
type Handle struct {
	Field string  // its name
	Label string  // what is moved
	At    float64 // from the tip
}

// Moving is a figure of which a script moves some as a field of a form says.
type Moving struct {
	screenOnly
	Of    Figure
	Field string // its name
	Data  any    // how, as JSON for the script
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
	if b.Ask != "" {
		h.rawf(" data-ask=\"%s\"", html.EscapeString(b.Ask))
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
		button.html(h)
	}
	h.raw("</p>\n</form>\n")
}

func (b Button) html(h *htmlWriter) {
	h.raw(`<button type="submit"`)
	if b.Name != "" {
		h.rawf(" name=\"%s\" value=\"%s\"", html.EscapeString(b.Name), html.EscapeString(b.Value))
	}
	h.rawf(">%s</button>\n", html.EscapeString(b.Text))
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

func (b Offered) html(h *htmlWriter) {
	h.rawf("<datalist id=\"%s\">\n", html.EscapeString(b.ID))
	h.options(b.Options, "")
	h.raw("</datalist>\n")
}

func (f Field) html(h *htmlWriter) {
	if f.Kind == "submit" {
		h.rawf("<div>\n")
		Button{f.Label, f.Name, f.Value}.html(h)
		h.rawf("</div>\n")
		return
	}
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
		f.input(h, common)
	}
	if f.Fault != "" {
		h.rawf("<p class=\"fault\" id=\"%s-fault\">%s</p>\n", id, html.EscapeString(f.Fault))
	}
	h.raw("</div>\n")
}

// input is the element that takes the value.
func (f Field) input(h *htmlWriter, common string) {
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
		h.rawf("<input type=\"%s\"%s value=\"%s\">\n", kind, common, html.EscapeString(f.Value))
		if kind == "range" { // nobody reads a number off a slider
			h.rawf("<output>%s</output>\n", html.EscapeString(f.Value))
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
	h.raw("<div id=\"stage\" data-anew>\n")
	h.out.Write(b.Picture.SVG())
	h.raw("</div>\n")
	h.rawf("<div id=\"handles\" data-anew class=\"handles\" style=\"--from: %.4f; --to: %.4f\">\n", b.From, b.To)
	step := 1.
	if b.Unit == "in" {
		step = 1. / 16
	}
	for _, one := range b.Handles {
		h.rawf("<input type=\"range\" dir=\"rtl\" min=\"0\" max=\"%g\" step=\"%g\" value=\"%g\" data-field=\"%s\" data-unit=\"%s\" aria-label=\"%s\" hidden>\n",
			b.Length, step, one.At, html.EscapeString(one.Field), b.Unit, html.EscapeString(one.Label))
	}
	h.raw("</div>\n</div>\n<figcaption>\n")
	h.key(b.Picture.Key)
	h.sentence(Plain(b.Picture.Notes))
	h.raw("</figcaption>\n</figure>\n")
}

func (b Printed) html(h *htmlWriter) {
	if b.Title != "" {
		h.rawf("<p><code>%s</code></p>\n", html.EscapeString(b.Title))
	}
	text := fmt.Sprintf("<pre>\n%s</pre>\n", html.EscapeString(b.Text))
	switch {
	case b.Columns:
		h.scroll(b.Text)
		h.raw(text + "</div>\n")
	case b.Text != "":
		h.raw(text)
	}
}

func (b Ways) html(h *htmlWriter) { h.element("p", "ways", b.Links) }

func (b Moving) html(h *htmlWriter) {
	data, err := json.Marshal(b.Data)
	if err != nil {
		panic("document: " + err.Error())
	}
	h.rawf("<div data-moved-by=\"%s\" data-moves=\"%s\">\n", html.EscapeString(b.Field), html.EscapeString(string(data)))
	b.Of.html(h)
	h.raw("</div>\n")
}

func (b Region) html(h *htmlWriter) {
	live := ""
	if b.Live {
		live = ` aria-live="polite"`
	}
	h.rawf("<div id=\"%s\" data-anew%s>\n", html.EscapeString(b.ID), live)
	h.blocks(b.Blocks)
	h.raw("</div>\n")
}

// screenOnly is what is nowhere but in HTML.
type screenOnly struct{}

func (screenOnly) markdown(*markdownWriter)        {}
func (screenOnly) pdf(*pdfWriter, float64) []strip { return nil }
