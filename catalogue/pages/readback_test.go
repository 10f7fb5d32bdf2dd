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
	e.part()
	return &e
}

// part parts paths that are written as one.
func (e *element) part() {
	var children []element
	for _, c := range e.Children {
		c.part()
		ways := strings.Split(c.attr("d"), "M")
		if c.XMLName.Local != "path" || len(ways) < 3 {
			children = append(children, c)
			continue
		}
		for _, way := range ways[1:] {
			one := c
			one.Attr = append([]xml.Attr{{Name: xml.Name{Local: "d"}, Value: "M" + way}}, c.Attr...)
			children = append(children, one)
		}
	}
	e.Children = children
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

var commands = regexp.MustCompile(`([Mlhvz])([^Mlhvz]*)`)
var numbers = regexp.MustCompile(`-?(\d+(\.\d+)?|\.\d+)`)

// points are the corners of a path.
func (e *element) points(t testing.TB) []drawing.Point {
	t.Helper()
	var at drawing.Point
	var points []drawing.Point
	for _, c := range commands.FindAllStringSubmatch(e.attr("d"), -1) {
		var v []float64
		for _, n := range numbers.FindAllString(c[2], -1) {
			x, err := strconv.ParseFloat(n, 64)
			if err != nil {
				t.Fatalf("no path: %s", e.attr("d"))
			}
			v = append(v, x)
		}
		for len(v) > 0 {
			switch c[1] {
			case "M":
				at, v = drawing.Point{X: v[0], Y: v[1]}, v[2:]
			case "l":
				at, v = drawing.Point{X: at.X + v[0], Y: at.Y + v[1]}, v[2:]
			case "h":
				at.X, v = at.X+v[0], v[1:]
			case "v":
				at.Y, v = at.Y+v[0], v[1:]
			}
			points = append(points, at)
		}
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
