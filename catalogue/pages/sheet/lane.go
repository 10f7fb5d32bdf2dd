package sheet

import (
	"fmt"
	"math"

	"rodlore/catalogue/pages/drawing"
	"rodlore/models/units"
)

// lane is a piece of the strip that is cut out by itself. Its left edge is the
// one to lay along the blank.
type lane struct {
	layout
	n        int     // of all lanes
	x        float64 // of the left edge, mm
	from, to float64 // mm from the tip
}

func (l layout) laneAt(n int, x float64) lane {
	return lane{l, n, x, l.joins[n], l.joins[n+1]}
}

// y is where a place lies, given in mm from the tip.
func (l lane) y(s float64) float64 { return head + s - l.from }

// on reports whether a place lies on the lane.
func (l lane) on(s float64) bool { return l.from <= s && s <= l.to }

func (l lane) marks() []drawing.Mark {
	marks := append(l.edges(), l.rule()...)
	marks = append(marks, l.whippings()...)
	marks = append(marks, l.sections()...)
	return append(marks, l.rings()...)
}

// edges are where the lane is cut, with the letters of its joins and the tab
// that the next one is laid on.
func (l lane) edges() []drawing.Mark {
	bottom, right := l.y(l.to), l.x+laneWide
	last := l.n == l.lanes()-1
	if !last {
		bottom += tab
	}
	marks := []drawing.Mark{
		mark(l.x, head, l.x, bottom, cutLine), mark(right, head, right, bottom, cutLine),
		mark(l.x, head, right, head, cutLine), mark(l.x, bottom, right, bottom, cutLine),
	}
	marks = append(marks, l.name()...)
	if !last {
		marks = append(marks, mark(l.x, l.y(l.to), right, l.y(l.to), ringLine), l.letter(l.n, l.y(l.to)+5))
	}
	return marks
}

// name says on every piece of which rod and which stretch it is, and which join
// it begins with.
func (l lane) name() []drawing.Mark {
	texts := []string{l.spec.Name.Text, l.Say("sheet.strip.stretch", "from", fmt.Sprintf("%.0f", l.from), "to", millimetres(l.to/1e3))}
	if l.n == 0 {
		texts = append(texts, l.Say("sheet.strip.tip"))
	}
	var marks []drawing.Mark
	y := head
	if l.n > 0 {
		marks, y = append(marks, l.letter(l.n-1, y+4)), y+4.5
	}
	for _, text := range texts {
		for _, line := range drawing.Wrapped(text, labelSize, labelWide) {
			y += labelApart
			marks = append(marks, l.label(y, drawing.Cut(line, labelSize, labelWide)))
		}
	}
	return marks
}

// rule is the right edge with a tick every 10 mm from the tip, to measure on
// every piece.
func (l lane) rule() []drawing.Mark {
	var marks []drawing.Mark
	for at := 10 * math.Ceil(l.from/10); at <= l.to; at += 10 {
		tick := ruled / 2
		if math.Mod(at, 50) == 0 {
			tick = ruled
		}
		marks = append(marks, mark(l.x+laneWide-tick, l.y(at), l.x+laneWide, l.y(at), ringLine))
	}
	return marks
}

// letter names join n, on both sides of it.
func (l lane) letter(n int, y float64) drawing.Mark {
	return &drawing.Label{At: drawing.Point{X: l.x + laneWide - ruled - 0.5, Y: y}, Text: joinName(n), Size: 3.6, Anchor: drawing.End, Bold: true}
}

// joinName counts joins A to Z, AA, AB and so on.
func joinName(n int) string {
	name := ""
	for n++; n > 0; n = (n - 1) / 26 {
		name = string(rune('A'+(n-1)%26)) + name
	}
	return name
}

// label is words beside the left edge.
func (l lane) label(y float64, text string) *drawing.Label {
	return &drawing.Label{At: drawing.Point{X: l.x + bandWide + 1, Y: y}, Text: text, Size: labelSize}
}

const (
	labelSize  = 2.6
	labelApart = 3.  // from one line of words to the next
	bandWide   = 3.5 // of a whipping, along the left edge
	ruled      = 2.4 // of the ticks along the right edge
	labelWide  = laneWide - bandWide - 1 - ruled
)

// labels are lines of words beside a line at y, so many of them above it and the
// others below. Near an end of the lane all stand on the side where it goes on,
// so that none is cut through or hidden under the next lane.
func (l lane) labels(y float64, above int, texts ...string) []drawing.Mark {
	const room = 1. // of words from a line
	switch {
	case y+room+float64(len(texts)-above)*labelApart > l.y(l.to):
		above = len(texts)
	case y-room-float64(above)*labelApart < head:
		above = 0
	}
	var marks []drawing.Mark
	for i, text := range texts {
		baseline := y - room - float64(above-1-i)*labelApart
		if i >= above {
			baseline = y + 3 + float64(i-above)*labelApart
		}
		marks = append(marks, l.label(baseline, text))
	}
	return marks
}

// whippings are bands along the left edge.
func (l lane) whippings() []drawing.Mark {
	var marks []drawing.Mark
	for _, w := range l.outline.Whippings {
		from, to := spanOn(w.Span)
		if from, to = max(from, l.from), min(to, l.to); from >= to {
			continue
		}
		box := drawing.Box{Min: drawing.Point{X: l.x, Y: l.y(from)}, Max: drawing.Point{X: l.x + bandWide, Y: l.y(to)}}
		marks = append(marks, drawing.Rectangle(box, drawing.Style{Fill: drawing.Band, Stroke: drawing.Hair, Width: ringLine}))
	}
	return marks
}

// sections are where one begins, for a strip that is laid along it alone. The
// first one begins at the tip.
func (l lane) sections() []drawing.Mark {
	var marks []drawing.Mark
	for i, span := range l.spec.SectionSpans() {
		at, _ := spanOn(span)
		if at <= 0 || !l.on(at) {
			continue
		}
		name := l.spec.Sections[i].Name.Text
		begin := mark(l.x, l.y(at), l.x+0.7*laneWide, l.y(at), ringLine)
		begin.Dash = []float64{1.2, 0.9}
		words := drawing.Wrapped(l.Say("sheet.strip.begins", "section", name), labelSize, labelWide)
		marks = append(append(marks, begin), l.labels(l.y(at), 0, words...)...)
	}
	return marks
}

// rings are lines across the lane with what stands there.
func (l lane) rings() []drawing.Mark {
	var marks []drawing.Mark
	for i, g := range l.spec.Rings {
		at := 1e3 * float64(g.At.Value)
		if i == 0 || !l.on(at) {
			continue // the tip ring stands at the end of the strip
		}
		y := l.y(at)
		marks = append(append(marks, mark(l.x, y, l.x+laneWide, y, ringLine)), l.labels(y, 1,
			drawing.Cut(l.Say("sheet.strip.ring", "number", l.ringName(i), "part", g.Part.Text), labelSize, labelWide),
			millimetres(at/1e3), l.Say("sheet.strip.inches", "inches", units.Sixteenths(at/1e3)))...)
	}
	return marks
}
