package sheet

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"testing"

	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/pages/pagetest"
)

const (
	dpi = 600
	dot = 25.4 / dpi // mm
)

// page is one as a printer would put it on paper.
type page struct{ image.Image }

func printed(t testing.TB, pdf []byte) []page {
	t.Helper()
	pages := make([]page, len(pagetest.PDFPages(t, pdf)))
	for i := range pages {
		img, err := png.Decode(bytes.NewReader(pagetest.PDFPNG(t, pdf, i+1, dpi)))
		if err != nil {
			t.Fatal(err)
		}
		pages[i] = page{img}
	}
	return pages
}

// lines gives the middles of the dark lines that cross a column of dots, in mm
// from the top, each weighed by how dark its dots are.
func (p page) lines(mm float64) []float64 {
	var list []float64
	x, sum, moment := int(mm/dot), 0., 0.
	for y := range p.Bounds().Dy() {
		dark := 255 - float64(color.GrayModel.Convert(p.At(x, y)).(color.Gray).Y)
		switch {
		case dark > 20:
			sum += dark
			moment += dark * (float64(y) + 0.5)
		case sum > 0:
			list = append(list, moment/sum*dot)
			sum, moment = 0, 0
		}
	}
	return list
}

// within are the lines between two heights.
func within(lines []float64, from, to float64) []float64 {
	var list []float64
	for _, y := range lines {
		if from <= y && y <= to {
			list = append(list, y)
		}
	}
	return list
}

// A maker cuts the lanes out, joins them letter upon letter and reads the places
// of the rings off. So the lanes are read here: from a page as printed, the
// distance of every ring line from the top of its lane, upon the lengths of the
// lanes before. 0.05 % of a distance is allowed, and no less than half a dot,
// since a page is made of those.
func TestStripIsTrue(t *testing.T) {
	r := demoRange(t)
	tests := []struct {
		model string
		paper document.Paper
	}{{"groyne-13", document.A4}, {"skerry-10", document.Letter}}
	for _, test := range tests {
		t.Run(test.model+" on "+test.paper.Name, func(t *testing.T) {
			pdf := written(t, laidOut(t, r, test.model, Options{Strip: true, Paper: test.paper}).PDF)
			pages := printed(t, pdf)
			for i, page := range pages {
				checkBars(t, fmt.Sprintf("page %d", i+1), page, test.paper)
			}
			got := ringsOn(pages, test.paper)
			rings := draft(t, r, test.model).Spec().Rings[1:]
			if len(got) != len(rings) {
				t.Fatalf("%d ring lines for %d rings: %.2f", len(got), len(rings), got)
			}
			for i, g := range rings {
				want := 1e3 * float64(g.At.Value)
				if off := math.Abs(got[i] - want); off > math.Max(5e-4*want, dot/2) {
					t.Errorf("ring %d is at %.3f mm, want %.3f", i+1, got[i], want)
				}
			}
		})
	}
}

// ringsOn reads the places of the rings off the lanes of a strip.
func ringsOn(pages []page, paper document.Paper) []float64 {
	var rings []float64
	before := 0. // the lengths of the lanes so far
	for _, page := range pages {
		for left := document.Margin + barsWide; left+laneWide < paper.Width; left += laneWide + laneApart {
			lines := within(page.lines(left+laneWide-1), document.Margin+head-1, paper.Height-document.Margin)
			if len(lines) == 0 {
				continue
			}
			last := len(lines) - 1
			if foot := lines[last] - lines[last-1]; last > 1 && math.Abs(foot-tab) < 1 {
				last-- // the end of the tab
			}
			for _, y := range lines[1:last] {
				rings = append(rings, before+y-lines[0])
			}
			before += lines[last] - lines[0]
		}
	}
	return rings
}

// checkBars reports a bar that is not 100 mm or not four inches long.
func checkBars(t *testing.T, name string, p page, paper document.Paper) {
	t.Helper()
	for _, bar := range []struct{ at, length float64 }{{6, 100}, {17, 4 * 25.4}} {
		// Beside the bar itself, where its ticks still are.
		lines := within(p.lines(document.Margin+bar.at+0.6), document.Margin+head-1, paper.Height-document.Margin)
		if got := lines[len(lines)-1] - lines[0]; math.Abs(got-bar.length) > 5e-4*bar.length {
			t.Errorf("%s: a bar of %g mm is %.3f mm long", name, bar.length, got)
		}
	}
}

func TestJoinsHaveLetters(t *testing.T) {
	for n, want := range map[int]string{0: "A", 1: "B", 25: "Z", 26: "AA", 27: "AB", 51: "AZ", 52: "BA"} {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			if got := joinName(n); got != want {
				t.Errorf("%s, want %s", got, want)
			}
		})
	}
}

// A lane is cut off at its ends and its foot goes under the next one, so what
// stands there is lost.
func TestWordsOfTheStripStayOnTheirLane(t *testing.T) {
	tests := []struct{ name, at string }{
		{"in the middle", "845 mm"},
		{"just before the end of a lane", "957 mm"},
		{"at the end of a lane", "960 mm"},
		{"just behind the beginning of a lane", "962 mm"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			r := demoRange(t, edit{"models/skerry-10.yaml", "at: 845 mm", "at: " + test.at})
			s, err := gather(t.Context(), r, draft(t, r, "skerry-10"), Options{})
			if err != nil {
				t.Fatal(err)
			}
			l, told := s.layout(), false
			for n := range l.lanes {
				lane := l.laneAt(n, 0)
				for _, m := range lane.rings() {
					label, ok := m.(*drawing.Label)
					if !ok {
						continue
					}
					told = told || label.Text == test.at
					if top := label.At.Y - labelSize; top < head || label.At.Y > lane.y(lane.to) {
						t.Errorf("lane %d, from %.1f to %.1f: %q stands at %.1f", n, head, lane.y(lane.to), label.Text, label.At.Y)
					}
				}
			}
			if !told {
				t.Errorf("no words at %s", test.at)
			}
		})
	}
}
