package evaluate

import "math"

const millimetre = 1e-3 // m

// wholeMillimetres is a place in m as it is read from one written in whole
// millimetres: their quotient, and no product with a rounded factor.
func wholeMillimetres(s float64) float64 { return math.Round(s/millimetre) / 1000 }

// mark is a ring marked on the blank, and the one above it, in mm from the tip.
type mark struct{ above, here float64 }

// marked is how far off a way of marking the rings down to one is, as the sum of
// squares, and the ring above the one above.
type marked struct{ off, aboveThat float64 }

// rounded gives the places in whole millimetres, the last one as it is: of all
// ways to mark them without a spacing that shrinks or a ring that stands on a
// joint, the one that is least off.
func (l *layout) rounded() []float64 {
	ways := []map[mark]marked{{{0, 0}: {}}}
	for i := range l.at {
		next := map[mark]marked{}
		for m, way := range ways[i] {
			for _, mm := range l.marks(i) {
				if mm-m.here < m.here-m.above {
					continue
				}
				off := mm - l.at[i]/millimetre
				to, by := mark{m.here, mm}, marked{way.off + off*off, m.above}
				if known, ok := next[to]; !ok || by.before(known) {
					next[to] = by
				}
			}
		}
		ways = append(ways, next)
	}
	return l.trace(ways)
}

// before puts ways in order, so that of equals the same is always taken.
func (m marked) before(other marked) bool {
	return m.off < other.off || m.off == other.off && m.aboveThat < other.aboveThat
}

// marks are where a ring may be marked: near its place and on no joint. Where all
// spacings are equal, rounding them up one after the other moves a ring by up to
// a quarter of their number.
func (l *layout) marks(ring int) []float64 {
	last := len(l.at) - 1
	if ring == last {
		return []float64{l.at[last] / millimetre}
	}
	var marks []float64
	reach := float64(len(l.at)/4 + 1)
	middle := math.Round(l.at[ring] / millimetre)
	for mm := max(1, middle-reach); mm <= middle+reach; mm++ {
		if l.jointUnder(ring, mm*millimetre) < 0 {
			marks = append(marks, mm)
		}
	}
	return marks
}

// trace goes the best way back. Where there is none, places are rounded alone.
func (l *layout) trace(ways []map[mark]marked) []float64 {
	out := make([]float64, len(l.at))
	last := len(l.at) - 1
	var at mark
	best := marked{off: math.Inf(1)}
	for m, way := range ways[last+1] {
		if way.before(best) || way == best && m.above < at.above {
			at, best = m, way
		}
	}
	for i := last; i >= 0; i-- {
		if math.IsInf(best.off, 1) {
			out[i] = wholeMillimetres(l.at[i])
			continue
		}
		out[i] = wholeMillimetres(at.here * millimetre)
		at = mark{ways[i+1][at].aboveThat, at.above}
	}
	out[last] = l.at[last]
	return out
}
