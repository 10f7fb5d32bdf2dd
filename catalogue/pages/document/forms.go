package document

import (
	_ "embed"
	"encoding/json"

	"rodlore/catalogue/pages/drawing"
)

//go:embed forms.css
var formStyle string

// TokenKey is the field of a form that writes with the Token of its page, as page.html
// has it.
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

// Step is what its handles move by at the least.
func (b Stage) Step() float64 {
	if b.Unit == "in" {
		return 1. / 16
	}
	return 1
}

// Button is that of a field that is one.
func (f Field) Button() Button { return Button{f.Label, f.Name, f.Value} }

// Moved is the figure.
func (b Moving) Moved() []Block { return []Block{b.Of} }

// JSON is how a script moves it.
func (b Moving) JSON() (string, error) {
	data, err := json.Marshal(b.Data)
	return string(data), err
}

// screenOnly is what is nowhere but in HTML.
type screenOnly struct{}

func (screenOnly) markdown(*markdownWriter)        {}
func (screenOnly) pdf(*pdfWriter, float64) []strip { return nil }
