package evaluate

import (
	"fmt"
	"math"
	"slices"

	"rodlore/models"
	"rodlore/models/units"
)

const millimetre = 1e-3 // m

// divisions are what places on a blank are read off by.
type divisions struct {
	size float64                // m
	text func(n float64) string // so many of them, as they are written
}

// divisionsOf are whole millimetres, and sixteenths of an inch in an imperial range.
func divisionsOf(set *models.Settings) divisions {
	if set.Units == "imperial" {
		return divisions{units.Size("in") / 16, func(n float64) string { return units.Trimmed(n/16, 4) + " in" }}
	}
	return divisions{millimetre, func(n float64) string { return fmt.Sprintf("%.0f mm", n) }}
}

// place is the place nearest to s, m, as it would be written.
func (d divisions) place(s float64) models.Given[units.Length] {
	text := d.text(math.Round(s / d.size))
	return models.Given[units.Length]{Value: units.Length(units.MustParse(text, units.Of[units.Length]())), Text: text}
}

// nearest is the value of place: as it will be read, and no product with a rounded
// factor.
func (d divisions) nearest(s float64) float64 { return float64(d.place(s).Value) }

// mark is a ring marked on the blank, and the one above it, in divisions from the
// tip.
type mark struct{ above, here float64 }

// marked is how far off a way of marking the rings down to one is, as the sum of
// squares, and the ring above the one above.
type marked struct{ off, aboveThat float64 }

// rounded gives the places in whole divisions, the last one as it is: of all
// ways to mark them without a spacing that shrinks or a ring that stands on a
// joint, the one that is least off. Where there is none, each is rounded alone.
func (l *layout) rounded() []float64 {
	// Where all spacings are equal, rounding them up one after the other moves a
	// ring by up to a quarter of their number; between joints it may take more.
	n := len(l.at)
	for reach := n/4 + 1; reach <= 2*n; reach *= 2 {
		ways := l.ways(float64(reach))
		if len(ways[n]) > 0 {
			return l.trace(ways)
		}
	}
	out := slices.Clone(l.at)
	for i := range n - 1 {
		out[i] = l.marks.nearest(out[i])
	}
	return out
}

// ways are those to mark the rings so far off at the most, ring after ring from
// the tip ring on.
func (l *layout) ways(reach float64) []map[mark]marked {
	ways := []map[mark]marked{{{0, 0}: {}}}
	for i := range l.at {
		next := map[mark]marked{}
		marks := l.choices(i, reach)
		for m, way := range ways[i] {
			for _, n := range marks {
				if n-m.here < m.here-m.above {
					continue
				}
				off := n - l.at[i]/l.marks.size
				to, by := mark{m.here, n}, marked{way.off + off*off, m.above}
				if known, ok := next[to]; !ok || by.before(known) {
					next[to] = by
				}
			}
		}
		ways = append(ways, next)
	}
	return ways
}

// before puts ways in order, so that of equals the same is always taken.
func (m marked) before(other marked) bool {
	return m.off < other.off || m.off == other.off && m.aboveThat < other.aboveThat
}

// choices are where a ring may be marked: so near to its place and on no joint.
func (l *layout) choices(ring int, reach float64) []float64 {
	last := len(l.at) - 1
	if ring == last {
		return []float64{l.at[last] / l.marks.size}
	}
	var marks []float64
	middle := math.Round(l.at[ring] / l.marks.size)
	for n := max(1, middle-reach); n <= middle+reach; n++ {
		if l.jointUnder(ring, n*l.marks.size) < 0 {
			marks = append(marks, n)
		}
	}
	return marks
}

// trace goes the best way back.
func (l *layout) trace(ways []map[mark]marked) []float64 {
	out := slices.Clone(l.at)
	last := len(l.at) - 1
	var at mark
	best := marked{off: math.Inf(1)}
	for m, way := range ways[last+1] {
		if way.before(best) || way == best && m.above < at.above {
			at, best = m, way
		}
	}
	for i := last; i > 0; i-- {
		at = mark{ways[i+1][at].aboveThat, at.above}
		out[i-1] = l.marks.nearest(at.here * l.marks.size)
	}
	return out
}
