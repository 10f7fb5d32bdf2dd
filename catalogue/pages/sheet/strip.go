package sheet

import (
	"fmt"
	"math"

	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/drawing"
	"rodlore/models"
)

// How the strip is laid on paper, mm. A page has bars to measure at the left and
// then lanes, each a piece of the strip from its tip end at the top.
const (
	head      = 20. // above the lanes, for words
	tab       = 7.  // below a lane, under the next one
	barsWide  = 26.
	laneWide  = 24.
	laneApart = 2.
	beyond    = 20. // that the strip goes on behind the last whipping
)

// layout is a strip cut into lanes.
type layout struct {
	*sheet
	width, height float64   // of a page, mm
	joins         []float64 // where lanes begin, and where the last one ends, mm from the tip
	across        int       // lanes on a page
}

func (s *sheet) layout() layout {
	paper := s.paper()
	l := layout{sheet: s, width: paper.TextWidth(), height: paper.TextHeight()}
	l.joins = l.cuts(10 * math.Floor((l.height-head-tab)/10))
	l.across = int((l.width - barsWide + laneApart) / (laneWide + laneApart))
	return l
}

// lanes is how many there are.
func (l layout) lanes() int { return len(l.joins) - 1 }

// cuts divides the strip into lanes that are about as long as each other and no
// longer than longest, mm. Since a join hides what stands in it, it lies where
// nothing does, as near by as may be.
func (l layout) cuts(longest float64) []float64 {
	const step = 5. // mm, to be found on a tape
	end, cuts := l.last()+beyond, []float64{0}
	for {
		from := cuts[len(cuts)-1]
		left := math.Ceil((end - from) / longest)
		if left <= 1 {
			return append(cuts, end)
		}
		even := step * math.Floor((end-from)/left/step)
		cut := from + even
		for off := step; !l.clear(cut) && off < even; off += step {
			switch {
			case l.clear(from + even - off):
				cut = from + even - off
			case even+off <= longest && l.clear(from+even+off):
				cut = from + even + off
			}
		}
		cuts = append(cuts, cut)
	}
}

// clear reports whether a join at s mm from the tip hides no mark, no whipping
// and none of the words beside them.
func (l layout) clear(s float64) bool {
	const above, below, thread = 10., 18., 2. // mm
	near := func(at float64) bool { return s > at-below && s < at+above }
	for _, g := range l.spec.Rings[1:] {
		if near(1e3 * float64(g.At.Value)) {
			return false
		}
	}
	for _, span := range l.spec.SectionSpans() {
		if at, _ := spanOn(span); at > 0 && near(at) {
			return false
		}
	}
	for _, w := range l.outline.Whippings {
		if from, to := spanOn(w.Span); s > from-thread && s < to+thread {
			return false
		}
	}
	return true
}

// last is where the last ring, or the whippings over its feet, ends, mm from the
// tip.
func (l layout) last() float64 {
	end := float64(l.spec.Rings[len(l.spec.Rings)-1].At.Value)
	for _, w := range l.outline.Whippings {
		end = max(end, w.To)
	}
	return 1e3 * end
}

// strip is the ring strip, a leaf a page.
func (s *sheet) strip() []document.Block {
	l := s.layout()
	var blocks []document.Block
	pages := (l.lanes() + l.across - 1) / l.across
	for page := range pages {
		blocks = append(blocks, document.Leaf{Picture: l.page(page, pages)})
	}
	return blocks
}

// page draws one page of lanes.
func (l layout) page(page, pages int) *drawing.Picture {
	first := page * l.across
	last := min(first+l.across, l.lanes())
	of := []string{"page", fmt.Sprint(page + 1), "pages", fmt.Sprint(pages)}
	pic := &drawing.Picture{
		Title:       l.Say("sheet.strip.picture", of...),
		Description: l.Say("sheet.strip.description", "places", l.List(l.places(first, last))),
		Width:       l.width, Height: l.height, Letters: labelSize,
	}
	pic.Add(l.words(append(of, "model", l.spec.Name.Text, "standing", l.standing()))...)
	pic.Add(l.bars()...)
	for n := first; n < last; n++ {
		pic.Add(l.laneAt(n, barsWide+float64(n-first)*(laneWide+laneApart)).marks()...)
	}
	return pic
}

// places lists where the rings on those lanes stand.
func (l layout) places(first, last int) []string {
	var list []string
	for _, g := range l.spec.Rings {
		if at := 1e3 * float64(g.At.Value); at >= l.joins[first] && at < l.joins[last] {
			list = append(list, millimetres(float64(g.At.Value)))
		}
	}
	return list
}

// words stand above the lanes.
func (l layout) words(of []string) []drawing.Mark {
	y := 3.
	marks := []drawing.Mark{&drawing.Label{At: drawing.Point{X: 0, Y: y}, Text: l.Say("sheet.strip.page", of...), Size: 3.2, Bold: true}}
	for _, text := range []string{l.Say("sheet.strip.scale"), l.Say("sheet.strip.join")} {
		for _, line := range drawing.Wrapped(text, labelSize, l.width) {
			y += 3.7
			marks = append(marks, &drawing.Label{At: drawing.Point{X: 0, Y: y}, Text: line, Size: labelSize})
		}
	}
	return marks
}

// bars are what to measure before the marks are used. They lie the same way as
// the strip, since a printer may be off along the page and right across it.
func (l layout) bars() []drawing.Mark {
	marks := l.bar(6, 100, 10, l.Say("sheet.strip.mm bar"))
	return append(marks, l.bar(17, 4*25.4, 25.4, l.Say("sheet.strip.inch bar"))...)
}

// bar is a bar of that length with ticks.
func (l layout) bar(x, length, every float64, text string) []drawing.Mark {
	const tick = 2.
	marks := []drawing.Mark{
		mark(x, head, x, head+length, cutLine),
		&drawing.Label{At: drawing.Point{X: x + 5, Y: head + length/2}, Text: text, Size: 3, Anchor: drawing.Middle, Turn: -90},
	}
	for at := 0.; at <= length+1e-9; at += every {
		wide := tick
		if at == 0 || at > length-1e-9 {
			wide = 2 * tick
		}
		marks = append(marks, mark(x-wide/2, head+at, x+wide/2, head+at, ringLine))
	}
	return marks
}

// Widths of lines, mm: those that places are read from are thin.
const (
	ringLine = 0.15
	cutLine  = 0.2
)

func mark(x1, y1, x2, y2, width float64) *drawing.Path {
	return drawing.Line(drawing.Point{X: x1, Y: y1}, drawing.Point{X: x2, Y: y2}, drawing.Style{Stroke: drawing.Strong, Width: width})
}

// spanOn is a stretch of the rod in mm from the tip.
func spanOn(s models.Span) (from, to float64) { return 1e3 * s.From, 1e3 * s.To }
