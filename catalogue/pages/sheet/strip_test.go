package sheet

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"strings"
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
			if edges := ruledOn(pages, test.paper); len(edges) == 0 {
				t.Error("no piece has a ruled edge")
			} else {
				checkRules(t, edges)
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
		for left := paper.Margin() + barsWide; left+laneWide < paper.Width; left += laneWide + laneApart {
			// Between whippings and words, in a gap of the line where a section begins.
			lines := within(page.lines(left+bandWide+0.5), paper.Margin()+head-1, paper.Height-paper.Margin())
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

// ruledOn are the lines on the right edge of every lane, mm from its top.
func ruledOn(pages []page, paper document.Paper) [][]float64 {
	var edges [][]float64
	for _, page := range pages {
		for left := paper.Margin() + barsWide; left+laneWide < paper.Width; left += laneWide + laneApart {
			lines := within(page.lines(left+laneWide-0.5), paper.Margin()+head-1, paper.Height-paper.Margin())
			if len(lines) > 0 {
				edges = append(edges, lines)
			}
		}
	}
	return edges
}

// checkRules reports a piece without ticks that are 100 mm apart.
func checkRules(t *testing.T, edges [][]float64) {
	t.Helper()
	for n, lines := range edges {
		found := false
		for _, from := range lines[1:] {
			for _, to := range lines {
				found = found || math.Abs(to-from-100) < math.Max(0.05, dot/2)
			}
		}
		if !found {
			t.Errorf("piece %d has no 100 mm to measure: %.2f", n+1, lines)
		}
	}
}

// checkBars reports a bar that is not 100 mm or not four inches long.
func checkBars(t *testing.T, name string, p page, paper document.Paper) {
	t.Helper()
	for _, bar := range []struct{ at, length float64 }{{6, 100}, {17, 4 * 25.4}} {
		// Beside the bar itself, where its ticks still are.
		lines := within(p.lines(paper.Margin()+bar.at+0.6), paper.Margin()+head-1, paper.Height-paper.Margin())
		if got := lines[len(lines)-1] - lines[0]; math.Abs(got-bar.length) > 5e-4*bar.length {
			t.Errorf("%s: a bar of %g mm is %.3f mm long", name, bar.length, got)
		}
	}
}

// A join hides what stands in it, so no ring's mark and no whipping does, and no
// piece is left over that is much shorter than the others.
func TestJoinsLieBetweenTheMarks(t *testing.T) {
	r := demoRange(t)
	for _, model := range demoModels {
		t.Run(model, func(t *testing.T) {
			s, err := gather(t.Context(), r, draft(t, r, model), Options{})
			if err != nil {
				t.Fatal(err)
			}
			l := s.layout()
			for i, join := range l.joins[1:l.lanes()] {
				for _, g := range s.spec.Rings {
					if at := 1e3 * float64(g.At.Value); math.Abs(at-join) < 10 {
						t.Errorf("the join at %g mm hides the mark at %g mm", join, at)
					}
				}
				for _, w := range s.outline.Whippings {
					if from, to := spanOn(w.Span); join > from-2 && join < to+2 {
						t.Errorf("the join at %g mm cuts the whipping from %.1f to %.1f mm", join, from, to)
					}
				}
				if long := join - l.joins[i]; long > 240 || long < 120 {
					t.Errorf("the piece from %g mm is %g mm long", l.joins[i], long)
				}
			}
			if last := l.joins[l.lanes()] - l.joins[l.lanes()-1]; last > 240 || last < 120 {
				t.Errorf("the last piece is %.1f mm long", last)
			}
		})
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
		{"in the middle", "845\u00a0mm"},
		{"where a lane would end", "960\u00a0mm"},
		{"just before", "957\u00a0mm"},
		{"just behind", "962\u00a0mm"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			r := demoRange(t, edit{"models/skerry-10.yaml", "at: 845 mm", "at: " + strings.ReplaceAll(test.at, "\u00a0", " ")})
			s, err := gather(t.Context(), r, draft(t, r, "skerry-10"), Options{})
			if err != nil {
				t.Fatal(err)
			}
			l, told := s.layout(), false
			for n := range l.lanes() {
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
