package beam_test

import (
	"math"
	"strings"
	"testing"

	"rodlore/evaluate/beam"
)

func TestImproperRods(t *testing.T) {
	good := beam.Piece{To: 1, EI: constant(1), Mu: constant(1)}
	piece := func(from, to float64) beam.Piece {
		return beam.Piece{From: from, To: to, EI: constant(1), Mu: constant(1)}
	}
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		name     string
		pieces   []beam.Piece
		masses   []beam.PointMass
		elements int
		want     string
	}{
		{"no piece", nil, nil, 10, "at least one piece"},
		{"gap", []beam.Piece{piece(0, 1), piece(1.1, 2)}, nil, 10, "piece 1 must begin at 1 m where the one before ends, not at 1.1 m"},
		{"overlap", []beam.Piece{piece(0, 1), piece(0.9, 2)}, nil, 10, "piece 1 must begin at 1 m"},
		{"late start", []beam.Piece{piece(0.2, 1)}, nil, 10, "piece 0 must begin at 0 m"},
		{"backwards", []beam.Piece{piece(0, -1)}, nil, 10, "must run forwards"},
		{"empty", []beam.Piece{piece(0, 1), piece(1, 1)}, nil, 10, "piece 1 must run forwards"},
		{"endless", []beam.Piece{piece(0, inf)}, nil, 10, "two finite places"},
		{"no stiffness function", []beam.Piece{{To: 1, Mu: constant(1)}}, nil, 10, "needs both"},
		{"no stiffness", []beam.Piece{{To: 1, EI: constant(0), Mu: constant(1)}}, nil, 10, "stiffer than 0 everywhere: EI is 0 N·m²"},
		{"negative stiffness at the tip", []beam.Piece{{To: 1, EI: func(s float64) float64 { return 0.45 - s }, Mu: constant(1)}}, nil, 10, "EI is -"},
		{"pointed tip", []beam.Piece{{To: 1, EI: func(s float64) float64 { return 1 - s }, Mu: constant(1)}}, nil, 10, "EI is 0 N·m² at 1 m"},
		{"stiffness not a number", []beam.Piece{{To: 1, EI: constant(nan), Mu: constant(1)}}, nil, 10, "EI is NaN"},
		{"infinite stiffness", []beam.Piece{{To: 1, EI: constant(inf), Mu: constant(1)}}, nil, 10, "EI is +Inf"},
		{"stiffness not a number in between", []beam.Piece{{To: 1, EI: hole(0.011, 0.012), Mu: constant(1)}}, nil, 10, "EI is NaN N·m² at 0.011"},
		{"negative mass", []beam.Piece{{To: 1, EI: constant(1), Mu: constant(-1)}}, nil, 10, "negative mass: -1 kg/m"},
		{"mass not a number", []beam.Piece{{To: 1, EI: constant(1), Mu: constant(nan)}}, nil, 10, "NaN kg/m"},
		{"ring off the rod", []beam.Piece{good}, []beam.PointMass{{S: 1.2, Mass: 1}}, 10, "point mass 0 must lie on the rod, 0 to 1 m, not at 1.2 m"},
		{"ring before the clamp", []beam.Piece{good}, []beam.PointMass{{S: -0.1, Mass: 1}}, 10, "must lie on the rod"},
		{"negative ring", []beam.Piece{good}, []beam.PointMass{{S: 0.5, Mass: -1}}, 10, "must not be negative"},
		{"ring not a number", []beam.Piece{good}, []beam.PointMass{{S: 0.5, Mass: 1, Offset: nan}}, 10, "finite numbers"},
		{"no elements", []beam.Piece{good}, nil, 0, "between 1 and 1048576 elements, not 0"},
		{"too many elements", []beam.Piece{good}, nil, 1 << 30, "between 1 and 1048576 elements"},
	} {
		t.Run(c.name, func(t *testing.T) {
			rod, err := beam.NewRod(c.pieces, c.masses, c.elements)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error is %v, want one with %q", err, c.want)
			}
			if rod != nil {
				t.Error("there is a rod beside the error")
			}
		})
	}
}

// hole is 1 outside a stretch and not a number inside it.
func hole(from, to float64) func(float64) float64 {
	return func(s float64) float64 {
		if from < s && s < to {
			return math.NaN()
		}
		return 1
	}
}

// What a piece hides between the points of a mesh must not pass as a number
// when the mesh gets finer.
func TestRefiningAPieceWithAHole(t *testing.T) {
	rod := newRod(t, []beam.Piece{{To: 1, EI: hole(0.0055, 0.0058), Mu: constant(1)}}, nil, 10)
	defer func() {
		if recover() == nil {
			t.Error("refining takes a stiffness that is not a number")
		}
	}()
	rod.Refined()
}

func TestNodesStandAtJumpsAndMasses(t *testing.T) {
	rod := ringed(t, 1, 30)
	nodes := rod.Nodes()
	for _, want := range []float64{0, 0.3, 0.4, 0.45, 1} {
		found := false
		for _, s := range nodes {
			found = found || math.Abs(s-want) < 1e-12
		}
		if !found {
			t.Errorf("no node stands at %g in %v", want, nodes)
		}
	}
	for i := 1; i < len(nodes); i++ {
		if nodes[i] <= nodes[i-1] {
			t.Fatalf("nodes do not rise: %v", nodes)
		}
	}
	if n := len(nodes) - 1; n < 27 || n > 35 {
		t.Errorf("30 elements wanted, %d made", n)
	}
}

func TestRefiningHalvesWhatMatters(t *testing.T) {
	t.Run("even elements", func(t *testing.T) {
		if n := len(uniform(t, 0, 20).Refined().Nodes()) - 1; n != 40 {
			t.Errorf("20 even elements become %d, want 40", n)
		}
	})
	// A stiff foot of a thousandth of the length among twenty long elements.
	pieces := []beam.Piece{
		{To: 0.5, EI: constant(1), Mu: constant(0.1)},
		{From: 0.5, To: 0.501, EI: constant(3), Mu: constant(0.1)},
		{From: 0.501, To: 1, EI: constant(1), Mu: constant(0.1)},
	}
	rod := newRod(t, pieces, []beam.PointMass{{S: 0.501, Mass: 0.02, Offset: 0.01}}, 20)
	fine := rod.Refined()
	t.Run("a short element stays", func(t *testing.T) {
		if n, m := len(rod.Nodes())-1, len(fine.Nodes())-1; m != 2*n-1 {
			t.Errorf("%d elements become %d, want all but one halved", n, m)
		}
		within(t, "mass", fine.Mass(), rod.Mass(), 1e-15)
		within(t, "tip stiffness", fine.TipStiffness(), rod.TipStiffness(), 1e-12)
	})
	t.Run("the error falls as if all were halved", func(t *testing.T) {
		l := beam.Load{Force: 5, Direction: 2, Weight: true}
		exact := bent(t)(beam.NewSolver(newRod(t, pieces, []beam.PointMass{{S: 0.501, Mass: 0.02, Offset: 0.01}}, 1000)).Bend(l)).Tip()
		before := bent(t)(beam.NewSolver(rod).Bend(l)).Tip()
		after := bent(t)(beam.NewSolver(fine).Bend(l)).Tip()
		within(t, "order", math.Log2((before.Y-exact.Y)/(after.Y-exact.Y)), 4, 0.2) // 20 elements are not yet in the limit
	})
}

// The soft tip, where the bend happens, gets the finer mesh.
func TestElementsAreFinerWhereTheRodIsSofter(t *testing.T) {
	nodes := tapered(t, 0.2, cone, 0, 40).Nodes()
	first, last := nodes[1], 1-nodes[len(nodes)-2]
	if first < 2*last {
		t.Errorf("the first element is %g long, the last %g", first, last)
	}
}

// A mass and the end of a piece a hair's breadth apart share a node, whatever
// rounding did to their places.
func TestPlacesAHairApartAreOne(t *testing.T) {
	pieces := []beam.Piece{{To: 0.3, EI: constant(2), Mu: constant(1)}, {From: 0.1 + 0.2, To: 1, EI: constant(1), Mu: constant(1)}}
	masses := []beam.PointMass{{S: 0.3, Mass: 1}, {S: 0.1 + 0.2, Mass: 2}, {S: 1 + 1e-12, Mass: 3}}
	rod := newRod(t, pieces, masses, 3)
	if nodes := rod.Nodes(); len(nodes) != 4 {
		t.Errorf("nodes are %v, want one at 0.3", nodes)
	}
	within(t, "mass", rod.Mass(), 7, 1e-12)
}

// Tubes of linear diameter and wall have a mass, centre and inertia that the
// Gauss points give exactly on any mesh.
func TestMassPropertiesAreExact(t *testing.T) {
	// μ = 1 + s + s², with 2 kg at 0.25 m: by the integrals of powers.
	pieces := []beam.Piece{{To: 1, EI: constant(1), Mu: func(s float64) float64 { return 1 + s + s*s }}}
	rod := newRod(t, pieces, []beam.PointMass{{S: 0.25, Mass: 2, Offset: 0.01}}, 2)
	mass := 1 + 1.0/2 + 1.0/3 + 2
	first := 1.0/2 + 1.0/3 + 1.0/4 + 2*0.25
	second := 1.0/3 + 1.0/4 + 1.0/5 + 2*0.25*0.25
	for name, r := range map[string]*beam.Rod{"coarse": rod, "refined": rod.Refined()} {
		t.Run(name, func(t *testing.T) {
			within(t, "length", r.Length(), 1, 0)
			within(t, "mass", r.Mass(), mass, 1e-14)
			within(t, "balance", r.Balance(), first/mass, 1e-14)
			within(t, "inertia about the clamp", r.Inertia(0), second, 1e-14)
			about := 0.4 // Steiner
			within(t, "inertia about 0.4 m", r.Inertia(about), second-2*about*first+about*about*mass, 1e-14)
		})
	}
}

// A mesh keeps no hold on what it was made from.
func TestRodDoesNotChange(t *testing.T) {
	pieces := []beam.Piece{{To: 1, EI: constant(1), Mu: constant(1)}}
	rod := newRod(t, pieces, nil, 4)
	pieces[0].EI = constant(100)
	rod.Nodes()[2] = 17
	sh := bent(t)(beam.NewSolver(rod).Bend(beam.Load{Force: 1, Direction: math.Pi / 2}))
	within(t, "curvature at the butt", sh.At(0).Curvature, sh.MomentAt(0), 1e-15)
	within(t, "the third node", rod.Nodes()[2], 0.5, 1e-12)
}

func TestShapeOnBothSidesOfAJump(t *testing.T) {
	sh := bent(t)(beam.NewSolver(ringed(t, 1, 60)).Bend(beam.Load{Force: 0.4, Direction: math.Pi / 2, Weight: true}))
	for i, s := range sh.S {
		k, m := sh.Curvature[i], sh.Moment[i]
		switch {
		case math.Abs(s-0.4) < 1e-9: // twice as stiff from here
			within(t, "curvature before over after", k.Before/k.After, 2, 1e-12)
			within(t, "moment before and after", m.Before, m.After, 0)
		case math.Abs(s-0.45) < 1e-9: // no longer, and a mass off the centreline
			jump := -beam.Gravity * 0.003 * 0.015 * math.Sin(sh.Turn[i])
			within(t, "jump of the moment", m.Before-m.After, jump, 1e-15)
			within(t, "curvature before over after", k.Before/k.After, m.Before/m.After/2, 1e-12)
		case s == 0 || s == 1:
			within(t, "curvature at an end", k.Before, k.After, 0)
		}
	}
}

// Between the nodes, and at them, the shape is one curve.
func TestPointsBetweenNodes(t *testing.T) {
	rod := ringed(t, 1, 60)
	l := beam.Load{Force: 0.5, Direction: math.Pi / 2, Weight: true}
	sh := bent(t)(beam.NewSolver(rod).Bend(l))
	fine := bent(t)(beam.NewSolver(rod.Refined().Refined()).Bend(l))
	for i, s := range fine.S {
		at := sh.At(s)
		within(t, "x", at.X, fine.X[i], 2e-6) // 60 elements
		within(t, "y", at.Y, fine.Y[i], 2e-6)
		within(t, "turn", at.Turn, fine.Turn[i], 5e-6)
		if fine.Moment[i].Before == fine.Moment[i].After {
			within(t, "moment", sh.MomentAt(at.S), fine.Moment[i].After, 2e-6)
		}
	}
	for i, s := range sh.S[:len(sh.S)-1] {
		at := sh.At(s)
		within(t, "turn at a node", at.Turn, sh.Turn[i], 0)
		within(t, "curvature after a node", at.Curvature, sh.Curvature[i].After, 1e-12)
	}
	if got, want := sh.At(2), sh.At(1); got != want {
		t.Errorf("a place beyond the tip gives %+v, want the tip %+v", got, want)
	}
	if got, want := sh.At(-1), sh.At(0); got != want {
		t.Errorf("a place before the clamp gives %+v, want the clamp %+v", got, want)
	}
	within(t, "x of the tip", sh.At(1).X, sh.Tip().X, 0)
}
