package drawing

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Outline is the data of a path through points, as a script that moves the path
// with that ID sets it.
func Outline(points []Point) string { return outline(points, false) }

// outline is the data of a path: its first point, and from each point to the
// next the way, in mm to the hundredth (SVG 2, 9.3). So a picture is half as
// long as with every place in full. The ways are between rounded places, so that
// rounding does not add up.
func outline(points []Point, closed bool) string {
	var d pathData
	for i, p := range points {
		d.to(hundredths(p.X), hundredths(p.Y), i == 0)
	}
	if closed {
		d.WriteByte('z')
	}
	return d.String()
}

func hundredths(mm float64) int { return int(math.Round(100 * mm)) }

// pathData is the data of a path in the making.
type pathData struct {
	strings.Builder
	x, y    int // where it has come to, hundredths of mm
	command byte
}

// to goes to a place.
func (d *pathData) to(x, y int, first bool) {
	dx, dy := x-d.x, y-d.y
	switch {
	case first:
		d.say('M', x, y)
	case dy == 0:
		d.say('h', dx)
	case dx == 0:
		d.say('v', dy)
	default:
		d.say('l', dx, dy)
	}
	d.x, d.y = x, y
}

// say writes a command, once for several of the same, and its numbers.
func (d *pathData) say(command byte, numbers ...int) {
	apart := d.command == command
	if !apart {
		d.WriteByte(command)
	}
	d.command = command
	for _, n := range numbers {
		text := short(n)
		if apart && text[0] != '-' {
			d.WriteByte(' ')
		}
		d.WriteString(text)
		apart = true
	}
}

// short writes hundredths of mm in mm, without a nought in front of the point.
func short(hundredths int) string {
	text := strconv.FormatFloat(float64(hundredths)/100, 'f', -1, 64)
	if bare, ok := strings.CutPrefix(text, "0."); ok {
		return "." + bare
	}
	if bare, ok := strings.CutPrefix(text, "-0."); ok {
		return "-." + bare
	}
	return text
}

// written are the marks as they are written: paths behind each other that are
// painted alike are one, where that looks the same.
func written(marks []Mark) []interface{ write(*svg) } {
	var list []interface{ write(*svg) }
	for _, m := range marks {
		p, ok := m.(*Path)
		if !ok {
			list = append(list, m)
			continue
		}
		if n := len(list); n > 0 {
			if run, ok := list[n-1].(*run); ok && run.takes(p) {
				run.paths = append(run.paths, p)
				continue
			}
		}
		list = append(list, &run{paths: []*Path{p}})
	}
	return list
}

// run is paths that are written as one.
type run struct{ paths []*Path }

// takes reports whether a path may be written with the others. One that a script
// moves, or that lies over another with its fill, may not.
func (r *run) takes(p *Path) bool {
	first := r.paths[0]
	if first.ID != "" || p.ID != "" || p.Opacity != 0 || !first.Style.same(p.Style) {
		return false
	}
	return p.Fill == None || !slices.ContainsFunc(r.paths, func(other *Path) bool { return other.Bounds().Overlaps(p.Bounds()) })
}

func (s Style) same(t Style) bool {
	return s.Stroke == t.Stroke && s.Fill == t.Fill && s.Width == t.Width && s.Opacity == t.Opacity && slices.Equal(s.Dash, t.Dash)
}

func (r *run) write(w *svg) {
	first := r.paths[0]
	w.open("path")
	w.text("id", first.ID)
	var d string
	for _, p := range r.paths {
		d += outline(p.Points, p.Closed)
	}
	w.text("d", d)
	w.style(first.Style)
	w.WriteString("/>\n")
}
