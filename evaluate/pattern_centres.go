package evaluate

import "math"

// ringCentre is where the line runs through a ring of the bent rod, with its
// derivative when the ring is moved towards the butt.
type ringCentre struct{ x, y, dx, dy float64 }

// ringCentreAt is the centre of a ring at s from the tip, of that height above the blank,
// while the bend stays as it is.
func (l *layout) ringCentreAt(s, height float64) ringCentre {
	z := l.rod.length - s
	offset := l.rod.side() * (l.rod.surface(z-l.rod.held) + height)
	taper := l.rod.side() * l.rod.pieceAt(z).radius.slope
	if z <= l.rod.held { // that part stays straight
		return ringCentre{x: z - l.rod.held, y: offset, dx: -1, dy: -taper}
	}
	p := l.bent.At(z - l.rod.held)
	sin, cos := math.Sincos(p.Turn)
	// d(−sin θ, cos θ) = −κ (cos θ, sin θ) dz, and s runs against z.
	along := offset*p.Curvature - 1
	return ringCentre{
		x: p.X - offset*sin, y: p.Y + offset*cos,
		dx: along*cos + taper*sin, dy: along*sin - taper*cos,
	}
}

// ringCentres are those of the tip ring, of the rings at the places given, and the
// reel's, which does not move.
func (l *layout) ringCentres(at []float64) []ringCentre {
	centres := []ringCentre{l.ringCentreAt(0, l.height(-1))}
	for i, s := range at {
		centres = append(centres, l.ringCentreAt(s, l.height(i)))
	}
	return append(centres, ringCentre{x: l.bent.Reel.X, y: l.bent.Reel.Y})
}

// height is that of a ring's middle above the blank, of the tip ring for −1.
func (l *layout) height(ring int) float64 {
	return float64(l.rod.spec.Parts[l.rod.spec.Rings[ring+1].Part.Text].Height.Value)
}

// turn is the angle by which the line turns in a ring, in the direction of the
// rod's bend, with its derivatives when the ring before, the ring itself or the
// one behind moves.
type turn struct {
	angle float64
	rate  [3]float64
}

// turnsIn are the turns in all of the centres but the first and the last.
func turnsIn(centres []ringCentre) []turn {
	turns := make([]turn, len(centres)-2)
	angle, near, far := chord(centres[0], centres[1])
	for i := range turns {
		nextAngle, nextNear, nextFar := chord(centres[i+1], centres[i+2])
		turns[i] = turn{angle - nextAngle, [3]float64{near, far - nextNear, -nextFar}}
		angle, near, far = nextAngle, nextNear, nextFar
	}
	return turns
}

// chord is the direction of the line from the centre b towards the tip to a, with
// its derivatives when either moves.
func chord(a, b ringCentre) (angle, byA, byB float64) {
	dx, dy := a.x-b.x, a.y-b.y
	square := dx*dx + dy*dy
	return math.Atan2(dy, dx), (dx*a.dy - dy*a.dx) / square, (dy*b.dx - dx*b.dy) / square
}

// clearance is how far the straight line between rings at a and b, with their
// heights, passes from the blank's surface midway.
func (l *layout) clearance(a, heightA, b, heightB float64) float64 {
	from, to := l.ringCentreAt(b, heightB), l.ringCentreAt(a, heightA)
	surface := l.ringCentreAt((a+b)/2, 0)
	dx, dy := to.x-from.x, to.y-from.y
	cross := dx*(surface.y-from.y) - dy*(surface.x-from.x)
	return -l.rod.side() * cross / math.Hypot(dx, dy)
}
