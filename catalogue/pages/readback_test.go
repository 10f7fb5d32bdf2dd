package pages_test

import (
	"bytes"
	"encoding/xml"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"rodlore/catalogue/pages/drawing"
)

// element is one element of an SVG as it was written.
type element struct {
	XMLName  xml.Name
	Attr     []xml.Attr `xml:",any,attr"`
	Text     string     `xml:",chardata"`
	Children []element  `xml:",any"`
}

// readBack reads the SVG of a picture, twice the same.
func readBack(t testing.TB, p *drawing.Picture) *element {
	t.Helper()
	svg := p.SVG()
	if !bytes.Equal(svg, p.SVG()) {
		t.Fatal("the same picture gave other bytes")
	}
	var e element
	if err := xml.Unmarshal(svg, &e); err != nil {
		t.Fatal(err)
	}
	return &e
}

func (e *element) attr(name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func (e *element) number(t testing.TB, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.attr(name), 64)
	if err != nil {
		t.Fatalf("%s of %s: %v", name, e.XMLName.Local, err)
	}
	return v
}

// all yields every element below e, in order.
func (e *element) all(name string) []*element {
	var list []*element
	for i := range e.Children {
		c := &e.Children[i]
		if c.XMLName.Local == name {
			list = append(list, c)
		}
		list = append(list, c.all(name)...)
	}
	return list
}

// group is the group of that title; nil where there is none.
func (e *element) group(title string) *element {
	for _, g := range e.all("g") {
		if len(g.Children) > 0 && g.Children[0].XMLName.Local == "title" && strings.TrimSpace(g.Children[0].Text) == title {
			return g
		}
	}
	return nil
}

// id is the element of that id; nil where there is none.
func (e *element) id(id string) *element {
	for _, name := range []string{"path", "circle", "text", "g"} {
		for _, c := range e.all(name) {
			if c.attr("id") == id {
				return c
			}
		}
	}
	return nil
}

// texts are all letterings.
func (e *element) texts() []string {
	var list []string
	for _, c := range e.all("text") {
		list = append(list, c.Text)
	}
	return list
}

var numbers = regexp.MustCompile(`-?[\d.]+`)

// points are the corners of a path.
func (e *element) points(t testing.TB) []drawing.Point {
	t.Helper()
	found := numbers.FindAllString(e.attr("d"), -1)
	var points []drawing.Point
	for i := 0; i+1 < len(found); i += 2 {
		x, errX := strconv.ParseFloat(found[i], 64)
		y, errY := strconv.ParseFloat(found[i+1], 64)
		if errX != nil || errY != nil {
			t.Fatalf("no path: %s", e.attr("d"))
		}
		points = append(points, drawing.Point{X: x, Y: y})
	}
	return points
}

// scaleOf reads a scale "1 : 30" off the lettering, by its turn among those of
// the line that says them.
func (e *element) scaleOf(t testing.TB, turn int) float64 {
	t.Helper()
	said := regexp.MustCompile(`1 : ([\d.]+)`)
	for _, text := range e.texts() {
		if found := said.FindAllStringSubmatch(text, -1); len(found) > turn {
			v, err := strconv.ParseFloat(found[turn][1], 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
	}
	t.Fatal("the picture says no scale")
	return 0
}

// near reports a length on paper that is off by more than a tenth of a
// millimetre, which is what the eye sees.
func near(t testing.TB, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 0.1) {
		t.Errorf("%s: %.2f mm, want %.2f", what, got, want)
	}
}
