package beam_test

import (
	"math"
	"testing"

	"rodlore/evaluate/beam"
)

// TestLikeRod holds that a rod like another swings and bends as one that was made
// anew, whatever is taken over from the other: its pieces, modes and solver.
func TestLikeRod(t *testing.T) {
	asked := 0
	piece := func(from, to, stiffer float64, of any) beam.Piece {
		return beam.Piece{
			From: from, To: to, Of: of,
			EI: func(s float64) float64 { asked++; return stiffer * math.Pow(1-0.75*s, 3) },
			Mu: func(s float64) float64 { return 0.01 * (1 - 0.75*s) },
		}
	}
	masses := func(tip float64) []beam.PointMass {
		return []beam.PointMass{{S: 0.3, Mass: 0.004, Offset: 0.02}, {S: 1, Mass: tip, Offset: 0.005}}
	}
	lower, upper := piece(0, 0.4, 1, "lower"), piece(0.4, 1, 1, "upper")
	base := newRod(t, []beam.Piece{lower, upper}, masses(0.001), 60)
	asked = 0
	heavier, err := base.Like([]beam.Piece{lower, upper}, masses(0.0012))
	if err != nil || asked > 0 {
		t.Fatalf("pieces that are known are asked %d times, %v", asked, err)
	}
	changed := piece(0.4, 1, 1.02, "another")
	stiffer, err := base.Like([]beam.Piece{lower, changed}, masses(0.001))
	if err != nil {
		t.Fatal(err)
	}
	known, err := base.Modes(2)
	if err != nil {
		t.Fatal(err)
	}
	line := beam.Line{
		Tension: 0.4, Direction: math.Pi / 2, Weight: true, Reel: beam.LineRing{S: -0.1, Offset: 0.03}, Radius: constant(0.004),
		Rings: []beam.LineRing{{S: 0.3, Offset: 0.02}, {S: 0.6, Offset: 0.01}, {S: 1, Offset: 0.005}},
	}
	used := beam.NewSolver(base)
	for _, like := range []struct {
		rod, anew *beam.Rod
	}{
		{heavier, newRod(t, []beam.Piece{lower, upper}, masses(0.0012), 60)},
		{stiffer, newRod(t, []beam.Piece{lower, changed}, masses(0.001), 60)},
		{base.Refined(), base.Refined()}, // of more nodes
	} {
		modes, err := like.rod.Modes(2, known...)
		if err != nil {
			t.Fatal(err)
		}
		afresh, err := like.anew.Modes(2)
		if err != nil {
			t.Fatal(err)
		}
		for i, m := range modes {
			within(t, "frequency", m.Frequency, afresh[i].Frequency, 1e-9*m.Frequency)
			within(t, "modal mass", m.ModalMass, afresh[i].ModalMass, 1e-7*m.ModalMass)
		}
		if _, err := used.BendLine(line); err != nil {
			t.Fatal(err)
		}
		used.TakeUp(like.rod)
		got, err := used.BendLine(line)
		if err != nil {
			t.Fatal(err)
		}
		want, err := beam.NewSolver(like.anew).BendLine(line)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "turn", got.Tip().Turn, want.Tip().Turn, 1e-8)
		within(t, "gap", got.Gap, want.Gap, 1e-8)
	}
}
