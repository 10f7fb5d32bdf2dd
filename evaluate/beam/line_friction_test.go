package beam_test

import (
	"fmt"
	"math"
	"testing"

	"rodlore/evaluate/beam"
)

// Euler 1769 and Eytelwein 1808: a rope that slides over an angle φ with the
// coefficient μ pulls e^{μφ} as hard on the side it runs to. The ratios are the
// formula's values as handbooks table them, to four decimals.
func TestTipRingAsCapstan(t *testing.T) {
	stiff := newRod(t, []beam.Piece{{To: 1, EI: constant(1e9), Mu: constant(0)}}, nil, 20)
	for _, row := range []struct{ degrees, friction, ratio float64 }{
		{90, 0.05, 1.0817}, {90, 0.1, 1.1701}, {90, 0.15, 1.2657}, {90, 0.2, 1.3691}, {90, 0.3, 1.6020},
		{180, 0.1, 1.3691}, {180, 0.2, 1.8745},
	} {
		for _, sign := range []float64{1, -1} {
			t.Run(fmt.Sprintf("%g deg, %g", row.degrees, sign*row.friction), func(t *testing.T) {
				s := beam.NewSolver(stiff)
				ls := bentLine(t)(s.BendLine(beam.Line{
					Tension: 3, Direction: row.degrees * degree, Friction: sign * row.friction,
					Reel: beam.LineRing{S: -0.2}, Rings: []beam.LineRing{{S: 1}},
				}))
				tip := ls.Rings[0]
				within(t, "turn", tip.Turn/degree, row.degrees, 1e-5) // the rod gives by 3e-9
				within(t, "ratio", s.Strung().Spans[0].Tension/3, math.Pow(row.ratio, sign), 5e-5)
			})
		}
	}
}

// However many rings share an angle, and however unevenly, the tension at the
// reel is that at the tip times the one e^{μφ}.
func TestRingsShareTheCapstan(t *testing.T) {
	for _, rings := range []int{1, 3, 8, 20} {
		for _, friction := range []float64{-0.2, 0.05, 0.2} {
			t.Run(fmt.Sprintf("%d rings, %g", rings, friction), func(t *testing.T) {
				l := beam.Line{Tension: 0.5, Direction: math.Pi / 2, Friction: friction, Reel: beam.LineRing{S: -0.1, Offset: 0.03}}
				for i := range rings {
					l.Rings = append(l.Rings, beam.LineRing{S: float64(i+1) / float64(rings), Offset: 0.01})
				}
				s := beam.NewSolver(lineRod(t, taperedPieces(1), l, 80))
				ls := bentLine(t)(s.BendLine(l))
				first := math.Atan2(ls.Rings[0].Y-ls.Reel.Y, ls.Rings[0].X-ls.Reel.X)
				sum := 0.0
				for _, ring := range ls.Rings {
					sum += ring.Turn
				}
				within(t, "turns together", sum, l.Direction-first, 1e-12)
				within(t, "tension at the reel", s.Strung().Spans[0].Tension, l.Tension*math.Exp(friction*sum), 1e-9)
			})
		}
	}
}

// Friction that hinders the line from running to the reel bends the butt more
// and the tip ring less; the tension at the tip is given.
func TestFrictionBendsTheButt(t *testing.T) {
	rod, l := rung(t, 1, 60)
	free := bentLine(t)(beam.NewSolver(rod).BendLine(l))
	l.Friction = 0.15
	running := bentLine(t)(beam.NewSolver(rod).BendLine(l))
	l.Friction = -0.15
	paying := bentLine(t)(beam.NewSolver(rod).BendLine(l))
	for _, row := range []struct {
		name string
		of   func(ls *beam.LineShape) float64
	}{
		{"load of the butt ring", func(ls *beam.LineShape) float64 { return ls.Rings[0].Force }},
		{"tension at the reel", func(ls *beam.LineShape) float64 { return ls.Reel.Force }},
	} {
		t.Run(row.name, func(t *testing.T) {
			if !(row.of(running) > row.of(free) && row.of(free) > row.of(paying)) {
				t.Errorf("%g running to the reel, %g without friction, %g paying out", row.of(running), row.of(free), row.of(paying))
			}
		})
	}
}

func TestTensionForATurnWithFriction(t *testing.T) {
	rod, l := rung(t, -1, 60)
	l.Friction = 0.2
	s := beam.NewSolver(rod)
	ls := bentLine(t)(s.BendLineToTurn(l, 70*degree))
	found := s.Strung()
	within(t, "turn", ls.Tip().Turn, 70*degree, 1e-9)
	fresh := beam.NewSolver(rod)
	again := bentLine(t)(fresh.BendLine(ls.Line))
	within(t, "turn under the tension found", again.Tip().Turn, 70*degree, 1e-9)
	within(t, "tension at the reel", fresh.Strung().Spans[0].Tension, found.Spans[0].Tension, 1e-9)
}
