package photo

import (
	"errors"
	"fmt"
	"math"
)

// Marks are two marks on the line of the butt, the first nearer the butt end.
type Marks struct {
	First, Second Position
	// Apart is how far they are apart, by how many metres that may be off, and
	// From how far the first is in front of the hold, behind it where negative: m.
	Apart, ApartBy, From float64
}

// Place is a point of the bent rod, m: X along the line of the butt from the front
// of the hold towards the tip, Y down from it.
type Place struct{ X, Y float64 }

// Traced are points of a bent rod off a picture.
type Traced struct {
	Places []Place
	// Within is the standard deviation of each, m, as if they were off
	// independently of each other. The marks move all points alike, so that more
	// points do not make up for them: their part counts once for every point.
	Within float64
	Pixel  float64 // m that a pixel stands for
}

// steepest is how far the line of the marks may be off level: more, and which side
// of it is below cannot be told.
const steepest = math.Pi / 4

// fewest is how few pixels the marks may be apart.
const fewest = 20

// slack is how far behind the front of the hold a point may lie, m: one at it is
// easily read a little short.
const slack = 0.02

// Trace finds where points of a picture, as it is shown, are on the bent rod. The
// butt is level and the picture taken square to the plane of the bend. read is how
// well a position was read, a standard deviation in pixels. What lens and
// perspective add is not known to it.
func (m Marks) Trace(points []Position, read float64) (*Traced, error) {
	along := Position{m.Second.X - m.First.X, m.Second.Y - m.First.Y}
	pixels := math.Hypot(along.X, along.Y)
	if pixels < fewest {
		return nil, fmt.Errorf("the marks are %.0f pixels apart, too few to measure by; take marks that are far apart", pixels)
	}
	if rise := math.Atan2(math.Abs(along.Y), math.Abs(along.X)); rise > steepest {
		return nil, fmt.Errorf("the line through the marks stands %.0f° off level, and the butt is held level; is the picture on its side, or is a mark not on the line of the butt?", rise*180/math.Pi)
	}
	t := &Traced{Pixel: m.Apart / pixels}
	variance := 0.0
	lowest, highest := Place{Y: math.Inf(-1)}, Place{Y: math.Inf(1)}
	for i, p := range points {
		at := m.place(p)
		if at.X < -slack {
			return nil, fmt.Errorf("point %d lies %.0f mm behind the front of the hold; the marks are the wrong way round, give the one nearer the butt end first", i+1, -1e3*at.X)
		}
		t.Places = append(t.Places, at)
		if at.Y > lowest.Y {
			lowest = at
		}
		if at.Y < highest.Y {
			highest = at
		}
		own, marks := m.variances(p, read)
		variance = max(variance, own+float64(len(points))*marks)
	}
	switch {
	case lowest.Y <= 0:
		return nil, errors.New("all points lie above the line through the marks, and a load draws the rod down; is the picture or are the marks upside down?")
	case lowest.X < highest.X-slack:
		return nil, errors.New("by these marks the rod rises towards its tip; they are the wrong way round, give the one nearer the butt end first")
	}
	t.Within = math.Sqrt(variance)
	return t, nil
}

// place is where a position is on the rod.
func (m Marks) place(p Position) Place {
	along := Position{m.Second.X - m.First.X, m.Second.Y - m.First.Y}
	pixels := math.Hypot(along.X, along.Y)
	x, y := p.X-m.First.X, p.Y-m.First.Y
	scale := m.Apart / pixels
	down := math.Copysign(1, along.X) // whichever way the tip points in the picture
	return Place{
		X: m.From + scale*(x*along.X+y*along.Y)/pixels,
		Y: down * scale * (y*along.X - x*along.Y) / pixels,
	}
}

// variances are by how much a place may be off, m², in the direction in which it is
// off most: as its own position was read, and as the marks were. They are carried
// through by first derivatives (JCGM 100:2008, GUM, equation 10).
func (m Marks) variances(p Position, read float64) (own, marks float64) {
	from := m.place(p)
	var ofOwn, ofMarks spread
	nudge := func(into *spread, by float64, value *float64, place func() Place) {
		was := *value
		*value += by
		at := place()
		*value = was
		into.add(at.X-from.X, at.Y-from.Y)
	}
	place := func() Place { return m.place(p) }
	for _, value := range []*float64{&p.X, &p.Y} {
		nudge(&ofOwn, read, value, place)
	}
	for _, value := range []*float64{&m.First.X, &m.First.Y, &m.Second.X, &m.Second.Y} {
		nudge(&ofMarks, read, value, place)
	}
	nudge(&ofMarks, m.ApartBy, &m.Apart, place)
	return ofOwn.most(), ofMarks.most()
}

// spread is a covariance in the plane.
type spread struct{ xx, xy, yy float64 }

func (s *spread) add(x, y float64) {
	s.xx, s.xy, s.yy = s.xx+x*x, s.xy+x*y, s.yy+y*y
}

// most is the larger of its principal variances.
func (s *spread) most() float64 {
	return (s.xx+s.yy)/2 + math.Hypot((s.xx-s.yy)/2, s.xy)
}
