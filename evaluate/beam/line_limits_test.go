package beam_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"rodlore/evaluate/beam"
)

// rung is a tapered rod with four rings and a tip ring below it or, with a side
// of −1, above it, where the line lies on the blank in places; the reel stands
// behind the clamp.
func rung(t testing.TB, side float64, elements int) (*beam.Rod, beam.Line) {
	l := beam.Line{Tension: 0.6, Direction: 1.7, Reel: beam.LineRing{S: -0.1, Offset: 0.04 * side}}
	for i := range 5 {
		s := math.Pow(float64(i+1)/5, 0.8)
		l.Rings = append(l.Rings, beam.LineRing{S: s, Offset: side * (0.014 - 0.011*s)})
	}
	l.Radius = func(s float64) float64 { return 0.004 - 0.003*s }
	return lineRod(t, taperedPieces(1), l, elements), l
}

func TestRungTouchesOnTheOutsideOnly(t *testing.T) {
	for _, side := range sides {
		t.Run(side.name, func(t *testing.T) {
			rod, l := rung(t, side.side, 60)
			ls := bentLine(t)(beam.NewSolver(rod).BendLine(l))
			if touches := ls.Touch > 0; touches != (side.side < 0) {
				t.Errorf("touch is %g m", ls.Touch)
			}
		})
	}
}

func taperedPieces(stiffer float64) []beam.Piece {
	return []beam.Piece{{To: 1, EI: func(s float64) float64 { return stiffer * math.Pow(1-0.75*s, 3) }, Mu: constant(0)}}
}

// sides are those of the bend that a line can run on.
var sides = []struct {
	name string
	side float64
}{{"inside", 1}, {"outside", -1}}

// A line along the rod at one offset h all the way pulls the rod's end as a
// force at h does, and besides with the moment T·h(1 − d·t): its length is
// L − hθ, whatever the bend. That is the limit of many rings, and of a line
// that lies on an even blank from end to end.
func TestLineAllAlongTheRod(t *testing.T) {
	const tension, pull = 2.5, 1.6
	ei := func(s float64) float64 { return 1.2 - s }
	pieces := []beam.Piece{{To: 1, EI: ei, Mu: constant(0)}}
	line := func(offset float64, rings int) beam.Line {
		l := beam.Line{Tension: tension, Direction: pull, Reel: beam.LineRing{Offset: offset}}
		for i := range rings {
			l.Rings = append(l.Rings, beam.LineRing{S: float64(i+1) / float64(rings), Offset: offset})
		}
		return l
	}
	check := func(t *testing.T, s *beam.Solver, l beam.Line, offset, tolerance float64) *beam.LineShape {
		t.Helper()
		ls := bentLine(t)(s.BendLine(l))
		clamp, turn := alongside(t, shot{ei: ei, tension: tension, pull: pull, tip: beam.LineRing{S: 1, Offset: offset}})
		within(t, "x of the tip", ls.Tip().X, -clamp.x, tolerance)
		within(t, "y of the tip", ls.Tip().Y, -clamp.y, tolerance)
		within(t, "turn of the tip", ls.Tip().Turn, turn, 3*tolerance)
		within(t, "length of line", s.Strung().Length, 1-offset*turn, tolerance)
		return ls
	}
	for _, offset := range []float64{0.05, -0.05} {
		for _, rings := range []int{25, 50, 100} {
			t.Run(fmt.Sprintf("%d rings at %g m", rings, offset), func(t *testing.T) {
				l := line(offset, rings)
				// The chords cut the corners by the square of their length.
				check(t, beam.NewSolver(lineRod(t, pieces, l, 200)), l, offset, 0.2/float64(rings*rings))
			})
		}
	}
	t.Run("on the blank", func(t *testing.T) {
		l := line(-0.05, 1)
		l.Radius = constant(0.05)
		ls := check(t, beam.NewSolver(lineRod(t, pieces, l, 100)), l, -0.05, 2e-6)
		// The last hundredths, which the tip ring bends the other way, it spans.
		within(t, "touch", ls.Touch, 1, 0.03)
		within(t, "gap", ls.Spans[0].Gap, 0, 1e-5)
	})
}

// alongside is the rod at the clamp, seen from the tip, and the turn of the tip
// under a line that lies along all of it.
func alongside(t *testing.T, c shot) (clamp section, turn float64) {
	t.Helper()
	low, high := 0.0, 3.0
	for range 60 {
		turn = (low + high) / 2
		p := section{turn: turn}
		p.moment = c.tip.Offset * c.tension * (1 - p.along(c.pull))
		clamp = c.back(p, c.tip.S, 0, math.NaN())
		if clamp.turn < 0 {
			low = turn
		} else {
			high = turn
		}
	}
	return clamp, turn
}

// With the tip ring alone and everything on the centreline, the rod bears the
// dead force T(d − u) at its end, u being the direction from the reel.
func TestTipRingAlone(t *testing.T) {
	for _, pull := range []float64{0.5, 1.2, math.Pi / 2, 2} {
		t.Run(fmt.Sprintf("%g rad", pull), func(t *testing.T) {
			rod := newRod(t, taperedPieces(1), nil, 80)
			l := beam.Line{Tension: 0.3, Direction: pull, Rings: []beam.LineRing{{S: 1}}}
			s := beam.NewSolver(rod)
			ls := bentLine(t)(s.BendLine(l))
			chord := math.Atan2(ls.Tip().Y, ls.Tip().X)
			x, y := math.Cos(pull)-math.Cos(chord), math.Sin(pull)-math.Sin(chord)
			dead := beam.Load{Force: l.Tension * math.Hypot(x, y), Direction: math.Atan2(y, x)}
			sh := bent(t)(beam.NewSolver(rod).Bend(dead))
			within(t, "turn of the tip", ls.Tip().Turn, sh.Tip().Turn, 1e-9)
			within(t, "y of the tip", ls.Tip().Y, sh.Tip().Y, 1e-10)
			within(t, "moment at the clamp", ls.MomentAt(0), sh.MomentAt(0), 1e-9)
			within(t, "load of the ring", ls.Rings[0].Force, dead.Force, 1e-12)
			within(t, "length", s.Strung().Length, math.Hypot(ls.Tip().X, ls.Tip().Y), 1e-12)
			within(t, "gap", ls.Spans[0].Gap, largestArch(ls, chord), 1e-6)
		})
	}
}

// largestArch is how far the rod stands off its own chord, looked for closely.
func largestArch(ls *beam.LineShape, chord float64) float64 {
	largest := 0.0
	for i := range 10000 {
		p := ls.At(float64(i) / 10000)
		largest = max(largest, math.Abs(p.X*math.Sin(chord)-p.Y*math.Cos(chord)))
	}
	return largest
}

func TestLineOnTheOtherSideOfAnotherPull(t *testing.T) {
	for _, side := range sides {
		t.Run(side.name, func(t *testing.T) {
			rod, l := rung(t, side.side, 60)
			one, other := beam.NewSolver(rod), beam.NewSolver(rod)
			down := bentLine(t)(one.BendLine(l))
			l.Direction, l.Reel.Offset = -l.Direction, -l.Reel.Offset
			for i := range l.Rings {
				l.Rings[i].Offset = -l.Rings[i].Offset
			}
			up := bentLine(t)(other.BendLine(l))
			for i := range up.S {
				within(t, "turn", up.Turn[i], -down.Turn[i], 1e-11)
				within(t, "y", up.Y[i], -down.Y[i], 1e-11)
			}
			within(t, "gap", up.Gap, down.Gap, 1e-11)
			within(t, "touch", up.Touch, down.Touch, 1e-9)
			for i, load := range other.Strung().Loads {
				within(t, "load across", load[1], -one.Strung().Loads[i][1], 1e-11)
			}
		})
	}
}

// Stiffness and tension times k give the same curve.
func TestStifferRodUnderMoreTensionBendsTheSame(t *testing.T) {
	for _, side := range sides {
		for _, k := range []float64{1e-3, 3, 1e4} {
			t.Run(fmt.Sprintf("%s, %g", side.name, k), func(t *testing.T) {
				rod, l := rung(t, side.side, 60)
				base := bentLine(t)(beam.NewSolver(rod).BendLine(l))
				l.Tension *= k
				ls := bentLine(t)(beam.NewSolver(lineRod(t, taperedPieces(k), l, 60)).BendLine(l))
				for i := range ls.S {
					within(t, "turn", ls.Turn[i], base.Turn[i], 1e-11)
					within(t, "moment", ls.Moment[i].Before/k, base.Moment[i].Before, 1e-11)
				}
				within(t, "touch", ls.Touch, base.Touch, 1e-9)
				within(t, "load", ls.Rings[3].Force/k, base.Rings[3].Force, 1e-11)
			})
		}
	}
}

// What the line does on its way, T·δ − ∫δ dT, is what the bend stores, where δ
// is how far it has come out of the tip ring along its direction.
func TestLinePaysForTheBend(t *testing.T) {
	for _, side := range sides {
		t.Run(side.name, func(t *testing.T) {
			rod, l := rung(t, side.side, 120)
			s := beam.NewSolver(rod)
			out := func(tension float64) float64 {
				l := l
				l.Tension = tension
				ls := bentLine(t)(s.BendLine(l))
				tip := ls.Rings[len(ls.Rings)-1]
				return tip.X*math.Cos(l.Direction) + tip.Y*math.Sin(l.Direction) - s.Strung().Length
			}
			bentLine(t)(s.BendLine(l))
			stored := s.Strung().Energy
			work := l.Tension*out(l.Tension) - quad.Fixed(out, 0, l.Tension, 40, nil, 0)
			// The touch comes and goes at some tensions, where the rule of
			// forty points is not smooth.
			within(t, "stored energy", stored, work, 1e-6*work)
		})
	}
}

// A line above a rod bent to the curvature κ meets it between rings that hold
// it h above the surface when they stand more than √(8h/κ) apart, the sagitta
// of an arc: geometry.
func TestTouchBeginsWhereTheArcMeetsTheChord(t *testing.T) {
	const from, to = 0.45, 0.55
	radius := constant(0.003)
	bend := func(t *testing.T, above float64) (*beam.LineShape, beam.StrungSpan) {
		l := beam.Line{Tension: 0.4, Direction: math.Pi / 2, Radius: radius, Reel: beam.LineRing{S: -0.1, Offset: -0.05}}
		for _, s := range []float64{0.15, from, to, 1} {
			l.Rings = append(l.Rings, beam.LineRing{S: s, Offset: -0.003 - above})
		}
		pieces := []beam.Piece{{To: 1, EI: func(s float64) float64 { return 1.05 - s }, Mu: constant(0)}}
		s := beam.NewSolver(lineRod(t, pieces, l, 200))
		return bentLine(t)(s.BendLine(l)), s.Strung().Spans[2]
	}
	off, _ := bend(t, 0.01)
	curvature := off.At((from + to) / 2).Curvature
	sagitta := curvature * (to - from) * (to - from) / 8
	for _, row := range []struct {
		share   float64 // of the sagitta that the rings hold the line clear
		touches bool
	}{{1.03, false}, {0.97, true}} {
		t.Run(fmt.Sprintf("%g of the sagitta", row.share), func(t *testing.T) {
			ls, span := bend(t, row.share*sagitta)
			if touches := ls.Spans[2].Touch > 0; touches != row.touches {
				t.Errorf("touch is %g m, clearance %g m", ls.Spans[2].Touch, span.Clearance)
			}
			if !row.touches {
				within(t, "clearance", span.Clearance, 0.03*sagitta, 0.02*sagitta) // the curvature varies by some percent
			}
		})
	}
}

// On a rod too stiff to bend the line over a thick part is a polygon from ring
// to corner, along the thick part and from its corner to the tip ring: geometry.
func TestLineOverAThickPart(t *testing.T) {
	pieces := []beam.Piece{
		{To: 0.5, EI: constant(1e9), Mu: constant(0)}, {From: 0.5, To: 0.6, EI: constant(1e9), Mu: constant(0)}, {From: 0.6, To: 1, EI: constant(1e9), Mu: constant(0)},
	}
	l := beam.Line{
		Tension: 2, Direction: 0.5, Reel: beam.LineRing{S: -0.1, Offset: -0.006},
		Rings: []beam.LineRing{{S: 0.2, Offset: -0.006}, {S: 1, Offset: -0.004}},
		Radius: func(s float64) float64 {
			if s >= 0.5 && s <= 0.6 {
				return 0.01
			}
			return 0.002
		},
	}
	s := beam.NewSolver(lineRod(t, pieces, l, 40))
	ls := bentLine(t)(s.BendLine(l))
	span := ls.Spans[1]
	// Parts of elements are 0.006 m here; the stiff rod bends by 1e-9.
	within(t, "length", s.Strung().Spans[1].Length, math.Hypot(0.3, 0.004)+0.1+math.Hypot(0.4, 0.006), 1e-8)
	within(t, "touch", span.Touch, 0.1, 0.013)
	within(t, "clearance", s.Strung().Spans[1].Clearance, 0, 1e-9)
	within(t, "gap", span.Gap, 0.008, 1e-4) // just beside the step, square to a line that slopes a little
	within(t, "load of the ring", ls.Rings[0].Force, 2*l.Tension*math.Sin(math.Atan2(0.004, 0.3)/2), 1e-7)
	moment := l.Tension * (math.Sin(l.Direction) + 0.004*math.Cos(l.Direction) - 0.006)
	within(t, "moment at the clamp", ls.MomentAt(0), moment, 1e-7)
}

// Without tension the line still turns in the rings of a rod that its weight
// bends.
func TestSlackLineTurnsButDoesNotLoad(t *testing.T) {
	_, l := rung(t, 1, 60)
	l.Tension, l.Weight = 0, true
	rod := lineRod(t, []beam.Piece{{To: 1, EI: constant(0.1), Mu: constant(0.02)}}, l, 60)
	ls := bentLine(t)(beam.NewSolver(rod).BendLine(l))
	within(t, "turn of the tip", ls.Tip().Turn, bent(t)(beam.NewSolver(rod).Bend(beam.Load{Weight: true})).Tip().Turn, 1e-10)
	sum := 0.0
	for _, ring := range ls.Rings {
		within(t, "load", ring.Force, 0, 0)
		sum += ring.Turn
	}
	first := math.Atan2(ls.Rings[0].Y-ls.Reel.Y, ls.Rings[0].X-ls.Reel.X)
	within(t, "turns together", sum, l.Direction-first, 1e-12)
}
