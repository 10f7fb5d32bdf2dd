package drawing

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"slices"
	"strings"
	"testing"
)

func sample() *Picture {
	p := &Picture{Title: "A tip & its ring", Description: "One <ring>.", Width: 60, Height: 20.5, Letters: 3}
	p.Add(
		&Path{ID: "blank", Points: []Point{{1, 10}, {30.126, 10}, {59, -0.001}}, Style: Style{Stroke: Strong, Width: 0.35}},
		Rectangle(Box{Point{1, 2}, Point{3, 4}}, Style{Fill: RGB(200, 120, 50), Stroke: Series(1), Width: 0.2, Dash: Dash(1), Opacity: 0.5}),
		&Group{ID: "r", Title: "ring", Marks: []Mark{&Circle{Centre: Point{5, 6}, Radius: 1.5, Style: Style{Fill: Band}}}},
		&Label{At: Point{5, 18}, Text: `8" & tip`, Size: 3, Anchor: Middle, Turn: -90, Bold: true},
	)
	return p
}

const sampleSVG = `<svg class="picture" role="img" viewBox="0 0 60 20.5" width="60mm" height="20.5mm" font-size="3">
<title>A tip &amp; its ring</title>
<desc>One &lt;ring&gt;.</desc>
<path id="blank" d="M1 10h29.13l28.87-10" class="line-strong" stroke-width="0.35"/>
<path d="M1 2h2v2h-2z" class="line-series-2" fill="#c87832" stroke-dasharray="2.4 1" opacity="0.5"/>
<g id="r">
<title>ring</title>
<circle cx="5" cy="6" r="1.5" class="fill-band"/>
</g>
<text x="5" y="18" text-anchor="middle" transform="rotate(-90 5 18)" class="bold">8&#34; &amp; tip</text>
</svg>
`

func TestSVG(t *testing.T) {
	got := sample().SVG()
	if string(got) != sampleSVG {
		t.Errorf("SVG:\n%s\nwant\n%s", got, sampleSVG)
	}
	if again := sample().SVG(); !bytes.Equal(got, again) {
		t.Error("the same picture gave other bytes")
	}
}

func TestSVGIsXML(t *testing.T) {
	p := sample()
	p.Title = "\x00 \xff ]]> '\"<&" // nothing that somebody writes may break the page
	d := xml.NewDecoder(bytes.NewReader(p.SVG()))
	for {
		if _, err := d.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

func TestEveryClassHasItsRule(t *testing.T) {
	css := CSS()
	// A rule for every text that counts for more than a class would paint faint
	// letters strong.
	if !strings.Contains(css, ":where(.picture text){fill:") {
		t.Error("the ink of letters is not one that a class can change")
	}
	for ink := Strong; ink < themed; ink++ {
		for _, kind := range []string{"fill-", "line-"} {
			class, _ := ink.paint(kind)
			if !strings.Contains(css, "."+class+"{") {
				t.Errorf("no rule for %s", class)
			}
		}
		if !strings.Contains(css, "--"+palette[ink].name+":"+palette[ink].light.hex()) {
			t.Errorf("no colour for %s", palette[ink].name)
		}
	}
}

func TestBounds(t *testing.T) {
	wide := TextWidth("1790 mm", 4, false)
	tests := []struct {
		name string
		mark Mark
		want Box
	}{
		{"path", Line(Point{3, 1}, Point{1, 2}, Style{}), Box{Point{1, 1}, Point{3, 2}}},
		{"circle", &Circle{Centre: Point{3, 1}, Radius: 2}, Box{Point{1, -1}, Point{5, 3}}},
		{"label", &Label{At: Point{10, 10}, Text: "1790 mm", Size: 4}, Box{Point{10, 10 - 2.96}, Point{10 + wide, 10.84}}},
		{"label from its end", &Label{At: Point{10, 10}, Text: "1790 mm", Size: 4, Anchor: End}, Box{Point{10 - wide, 7.04}, Point{10, 10.84}}},
		{"label upright", &Label{At: Point{10, 10}, Text: "1790 mm", Size: 4, Turn: -90}, Box{Point{7.04, 10 - wide}, Point{10.84, 10}}},
		{"group", &Group{Marks: []Mark{&Circle{Radius: 1}, &Circle{Centre: Point{4, 0}, Radius: 1}}}, Box{Point{-1, -1}, Point{5, 1}}},
	}
	for _, test := range tests {
		got := test.mark.Bounds()
		off := math.Max(math.Hypot(got.Min.X-test.want.Min.X, got.Min.Y-test.want.Min.Y), math.Hypot(got.Max.X-test.want.Max.X, got.Max.Y-test.want.Max.Y))
		if off > 1e-9 { // rounding
			t.Errorf("%s: bounds %v, want %v", test.name, got, test.want)
		}
	}
}

// Digits are all as wide as each other, and have the room of the widest: those
// of DejaVu Sans 2.37, which by its tables of widths (hmtx) are 1303 of 2048
// units to the em, and 1425 in bold.
func TestTextWidth(t *testing.T) {
	for _, digit := range "0123456789" {
		for bold, least := range map[bool]float64{false: 1303. / 2048, true: 1425. / 2048} {
			if got := TextWidth(string(digit), 1, bold); got < least || got > 1.04*least { // little more than it takes
				t.Errorf("%c, bold %v, has a room of %g, want %g", digit, bold, got, least)
			}
		}
	}
	if got := TextWidth("⟂漢", 3, true); !(got > 0) {
		t.Errorf("letters that the font lacks are %g wide", got)
	}
}

func BenchmarkSVG(b *testing.B) {
	p := sample()
	for b.Loop() {
		p.SVG()
	}
}

func TestSimplified(t *testing.T) {
	line := []Point{{0, 0}, {1, 0.001}, {2, -0.001}, {3, 0}, {4, 2}, {5, 4}}
	want := []Point{{0, 0}, {3, 0}, {5, 4}}
	if got := Simplified(line, 0.01); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if got := Simplified(line[:2], 1); !slices.Equal(got, line[:2]) {
		t.Errorf("two points became %v", got)
	}
}
