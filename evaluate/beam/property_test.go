package beam_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rodlore/evaluate/beam"
)

// anyRod draws a rod of one to four pieces, each tapering by its own power law,
// with jumps between them and up to five masses.
func anyRod(t *rapid.T) *beam.Rod {
	n := rapid.IntRange(1, 4).Draw(t, "pieces")
	length := rapid.Float64Range(0.5, 5).Draw(t, "length")
	var pieces []beam.Piece
	ei := math.Exp(rapid.Float64Range(-2, 5).Draw(t, "ln EI"))
	for i := range n {
		from, to := length*float64(i)/float64(n), length*float64(i+1)/float64(n)
		if i > 0 {
			from = pieces[i-1].To
		}
		falls := rapid.Float64Range(0, 2).Draw(t, "fall of ln EI")
		start := ei
		mu := rapid.Float64Range(0, 0.1).Draw(t, "mass per length")
		pieces = append(pieces, beam.Piece{
			From: from, To: to,
			EI: func(s float64) float64 { return start * math.Exp(-falls*(s-from)/(to-from)) },
			Mu: func(s float64) float64 { return mu * (1 - s/length/2) },
		})
		ei *= math.Exp(-falls) * rapid.Float64Range(0.5, 2).Draw(t, "jump")
	}
	masses := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) beam.PointMass {
		return beam.PointMass{S: length * rapid.Float64Range(0, 1).Draw(t, "at"), Mass: rapid.Float64Range(0, 0.05).Draw(t, "mass")}
	}), 0, 5).Draw(t, "masses")
	rod, err := beam.NewRod(pieces, masses, rapid.IntRange(16, 90).Draw(t, "elements"))
	if err != nil {
		t.Fatal(err)
	}
	return rod
}

// anyLoad draws a pull between two directions, from one that hardly bends the
// rod to one that pulls it straight.
func anyLoad(t *rapid.T, rod *beam.Rod, from, to float64) beam.Load {
	soft := rod.TipStiffness() * rod.Length()
	return beam.Load{
		Force:     soft * math.Exp(rapid.Float64Range(-6, 6).Draw(t, "ln of force")),
		Direction: rapid.Float64Range(from, to).Draw(t, "direction"),
		Weight:    rapid.Bool().Draw(t, "weight"),
	}
}

// Without offsets there is one stable bend between the butt and the forces, and
// it is always found: no loop, no bend to the other side, no way round.
func TestAnyRodBendsBetweenTheButtAndTheForces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rod := anyRod(t)
		l := anyLoad(t, rod, 0, 179.9*degree) // a pull back along the butt is a case of its own
		sh, err := beam.NewSolver(rod).Bend(l)
		if err != nil {
			t.Fatal(err)
		}
		most := l.Direction
		if l.Weight {
			most = max(most, math.Pi/2)
		}
		for i, turn := range sh.Turn {
			if turn < -1e-9 || turn > most+1e-9 {
				t.Fatalf("turn at %g m is %g, not between 0 and %g", sh.S[i], turn, most)
			}
		}
	})
}

// The force found for a bend's turn or drop bends the rod so. Under a pull that
// is square or leans back the turn grows with the force, under a square one the
// drop does too, and then it is the very force that bent it.
func TestForcesFoundDoWhatTheyAreFoundFor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rod := anyRod(t)
		l := anyLoad(t, rod, 90*degree, 150*degree)
		if rapid.Bool().Draw(t, "square") {
			l.Direction = math.Pi / 2
		}
		s := beam.NewSolver(rod)
		sh, err := s.Bend(l)
		if err != nil {
			t.Fatal(err)
		}
		tip := sh.Tip()
		if math.Min(math.Abs(tip.Turn-l.Direction), math.Abs(tip.Turn-math.Pi/2)) < 1*degree {
			return // the turn hardly tells one force from another there
		}
		turned, err := beam.NewSolver(rod).BendToTurn(l, tip.Turn)
		if err != nil {
			t.Fatal(err)
		}
		dropped, err := beam.NewSolver(rod).BendToDrop(l, tip.Y)
		if err != nil {
			t.Fatal(err)
		}
		again, err := s.Bend(dropped.Load)
		if err != nil {
			t.Fatal(err)
		}
		if off := again.Tip().Y - tip.Y; math.Abs(off) > 1e-8*tip.S {
			t.Errorf("force for the drop misses it by %g m", off)
		}
		if off := turned.Load.Force/l.Force - 1; math.Abs(off) > 1e-6 {
			t.Errorf("force for the turn is off by the share %g", off)
		}
		if off := dropped.Load.Force/l.Force - 1; l.Direction == math.Pi/2 && math.Abs(off) > 1e-6 {
			t.Errorf("force for the drop is off by the share %g", off)
		}
	})
}

// Modes rise in frequency, are square to each other in the mass, and slow down
// when mass is added.
func TestAnyRodSwings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(0.5, 5).Draw(t, "length")
		c := rapid.Float64Range(0.1, 1).Draw(t, "taper")
		piece := beam.Piece{
			To: length,
			EI: func(s float64) float64 { return 50 * math.Pow(1-(1-c)*s/length, 4) },
			Mu: func(s float64) float64 { return 0.1 * math.Pow(1-(1-c)*s/length, 2) },
		}
		ring := beam.PointMass{S: length * rapid.Float64Range(0.1, 1).Draw(t, "ring at"), Mass: rapid.Float64Range(1e-4, 0.1).Draw(t, "ring")}
		bare := swings(t, piece, nil)
		with := swings(t, piece, []beam.PointMass{ring})
		for i := range bare {
			if with[i].Frequency > bare[i].Frequency*(1+1e-9) {
				t.Errorf("a ring raises mode %d from %g to %g Hz", i+1, bare[i].Frequency, with[i].Frequency)
			}
			if i > 0 && with[i].Frequency <= with[i-1].Frequency {
				t.Errorf("mode %d at %g Hz is not over mode %d", i+1, with[i].Frequency, i)
			}
		}
	})
}

func swings(t *rapid.T, piece beam.Piece, masses []beam.PointMass) []beam.Mode {
	rod, err := beam.NewRod([]beam.Piece{piece}, masses, 40)
	if err != nil {
		t.Fatal(err)
	}
	modes, err := rod.Modes(3)
	if err != nil {
		t.Fatal(err)
	}
	return modes
}
