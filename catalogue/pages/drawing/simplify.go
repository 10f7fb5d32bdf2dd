package drawing

import "math"

// Simplified is a path through some of the points that passes all others by at
// most so many mm (Douglas and Peucker 1973, Cartographica 10:112, from
// memory).
func Simplified(points []Point, off float64) []Point {
	if len(points) < 3 {
		return points
	}
	first, last := points[0], points[len(points)-1]
	far, most := 0, off
	for i, p := range points[1 : len(points)-1] {
		if d := distance(p, first, last); d > most {
			far, most = i+1, d
		}
	}
	if far == 0 {
		return []Point{first, last}
	}
	before := Simplified(points[:far+1], off)
	return append(before[:len(before)-1:len(before)-1], Simplified(points[far:], off)...)
}

// distance is that of a point from the stretch between two others.
func distance(p, a, b Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = max(0, min(1, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/l))
	}
	return math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy)
}
