package drawing

// Point is a place on the paper in mm, x to the right and y down.
type Point struct{ X, Y float64 }

// MarshalJSON gives a script the point as a path has it: two numbers, to the hundredth.
func (p Point) MarshalJSON() ([]byte, error) {
	return []byte("[" + number(p.X) + "," + number(p.Y) + "]"), nil
}

// Picture is a drawing with the words that stand for it and those that go with
// it. The latter are no part of the drawing, so that they are set as text is:
// in any font, at any size.
type Picture struct {
	Title, Description string  // for people who do not see it
	Width, Height      float64 // mm
	Letters            float64 // size of the letters, where a label does not have another, mm
	Marks              []Mark  // painted in this order
	Key                []Entry // what its lines, areas and signs mean
	Notes              string  // how it is to be read
}

// Entry says what something in a picture means.
type Entry struct {
	Sample []Mark // as in the picture, within SampleWidth by SampleHeight from 0, 0; may be empty
	Text   string
}

// The room of a sample, mm.
const (
	SampleWidth  = 8
	SampleHeight = 3
)

// Add paints more marks.
func (p *Picture) Add(marks ...Mark) { p.Marks = append(p.Marks, marks...) }

// Mark is what a picture is made of: *Path, *Circle, *Label or *Group.
type Mark interface {
	// Bounds is the box that the mark lies in, without the width of its lines.
	Bounds() Box
	write(*svg)
}

// Style is how a path or circle is painted.
type Style struct {
	Stroke, Fill Ink
	Width        float64   // of the line, mm
	Dash         []float64 // lengths of line and gap, mm; none means a full line
	Opacity      float64   // of line and fill; 0 means opaque
}

// Path is a line through points.
type Path struct {
	ID     string // unique on the page; "" for none
	Points []Point
	Closed bool // back to the first point
	Style
}

// Line is the path from one point to another.
func Line(from, to Point, s Style) *Path { return &Path{Points: []Point{from, to}, Style: s} }

// Rectangle is the closed path round a box.
func Rectangle(b Box, s Style) *Path {
	return &Path{Points: []Point{b.Min, {b.Max.X, b.Min.Y}, b.Max, {b.Min.X, b.Max.Y}}, Closed: true, Style: s}
}

// Circle is a circle about its centre.
type Circle struct {
	ID     string // unique on the page; "" for none
	Centre Point
	Radius float64 // mm
	Style
}

// Anchor says which end of a label stands at its point.
type Anchor int

const (
	Start Anchor = iota
	Middle
	End
)

// Label is one line of text. Its point lies on the baseline.
type Label struct {
	ID     string // unique on the page; "" for none
	At     Point
	Text   string
	Size   float64 // of the letters, mm
	Anchor Anchor
	Turn   float64 // degrees clockwise about At
	Ink    Ink     // None means Strong
	Bold   bool
}

// Group is marks that belong together.
type Group struct {
	ID    string // unique on the page; "" for none
	Title string // what they are, shown where one points at them; "" for none
	Marks []Mark
}

// Add paints more marks.
func (g *Group) Add(marks ...Mark) { g.Marks = append(g.Marks, marks...) }
