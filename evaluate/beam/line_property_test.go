package beam_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"rodlore/evaluate/beam"
)

// anyLine draws a line through three to fifteen rings of a rod, inside or
// outside its bend, from a tension that hardly bends it to the load limit.
func anyLine(t *rapid.T, rod *beam.Rod) beam.Line {
	length := rod.Length()
	side := rapid.SampledFrom([]float64{1, -1}).Draw(t, "side")
	thick := length * rapid.Float64Range(0.0005, 0.003).Draw(t, "radius")
	soft := rod.TipStiffness() * length
	l := beam.Line{
		Tension:   soft * math.Exp(rapid.Float64Range(-6, 3).Draw(t, "ln of tension")),
		Direction: rapid.Float64Range(0.3, 2).Draw(t, "direction"), // well beyond, a chord may turn back through the blank
		Weight:    rapid.Bool().Draw(t, "weight"),
		Friction:  rapid.SampledFrom([]float64{0, 0, 0.1, -0.1}).Draw(t, "friction"),
		Reel:      beam.LineRing{S: -0.05 * length, Offset: side * length * rapid.Float64Range(0.005, 0.03).Draw(t, "reel")},
		Radius:    func(s float64) float64 { return thick * (1.5 - s/length) },
	}
	n := rapid.IntRange(3, 15).Draw(t, "rings")
	first := rapid.Float64Range(0.05, 0.4).Draw(t, "first ring")
	crowding := rapid.Float64Range(0.5, 1).Draw(t, "crowding to the tip")
	for i := range n {
		u := math.Pow(float64(i)/float64(n-1), crowding)
		above := length * rapid.Float64Range(0.001, 0.008).Draw(t, "height")
		l.Rings = append(l.Rings, beam.LineRing{S: length * (first + (1-first)*u), Offset: side * (2*thick + above)})
	}
	l.Rings[n-1].S = length
	return l
}

// anyEvenRod draws a tapered rod with even mass, and gives that per length.
func anyEvenRod(t *rapid.T) (rod *beam.Rod, mu float64) {
	length := rapid.Float64Range(0.5, 5).Draw(t, "length")
	ei := math.Exp(rapid.Float64Range(-2, 5).Draw(t, "ln EI"))
	falls := rapid.Float64Range(0, 5).Draw(t, "fall of ln EI")
	mu = rapid.Float64Range(0, 0.1).Draw(t, "mass per length")
	piece := beam.Piece{To: length, EI: func(s float64) float64 { return ei * math.Exp(-falls*s/length) }, Mu: constant(mu)}
	rod, err := beam.NewRod([]beam.Piece{piece}, nil, rapid.IntRange(30, 120).Draw(t, "elements"))
	if err != nil {
		t.Fatal(err)
	}
	return rod, mu
}

// Whatever is found is an equilibrium, and the one asked for. Cut at the clamp,
// rod and line together, only the pull at the tip ring, the line on its way to
// the reel and the weight act on what lies beyond; no equation of the solver is
// used for that.
func TestAnyLineIsInBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rod, mu := anyEvenRod(t)
		l := anyLine(t, rod)
		s := beam.NewSolver(rod)
		ls, err := s.BendLine(l)
		if err != nil {
			t.Fatal(err)
		}
		strung := s.Strung()
		tip := ls.Rings[len(ls.Rings)-1]
		sin, cos := math.Sincos(l.Direction)
		moment := l.Tension*(tip.X*sin-tip.Y*cos) - (ls.Reel.X*strung.Loads[0][1] - ls.Reel.Y*strung.Loads[0][0])
		if l.Weight {
			x := func(s float64) float64 { return ls.At(s).X }
			moment += beam.Gravity * mu * quad.Fixed(x, 0, rod.Length(), 200, nil, 0)
		}
		// The places that the moments are taken from are those of a mesh of 30
		// elements at the least, good for 1e-4 of the length at the load limit.
		scale := (l.Tension + beam.Gravity*rod.Mass()) * rod.Length()
		if got := ls.MomentAt(0); !(math.Abs(got-moment) <= 1e-4*scale) {
			t.Errorf("moment at the clamp is %g N·m, the forces beyond give %g", got, moment)
		}
		checkRings(t, ls, strung)
	})
}

// checkRings holds the loads against the turns and the spans against the blank.
func checkRings(t *rapid.T, ls *beam.LineShape, strung beam.Strung) {
	for i, ring := range ls.Rings {
		in, out := strung.Spans[i].Tension, ls.Line.Tension
		if i+1 < len(strung.Spans) {
			out = strung.Spans[i+1].Tension
		}
		// The parallelogram of the two tensions.
		want := math.Sqrt(in*in + out*out - 2*in*out*math.Cos(ring.Turn))
		if !(math.Abs(ring.Force-want) <= 1e-7*out) {
			t.Errorf("ring %d bears %g N, its tensions and turn give %g", i, ring.Force, want)
		}
	}
	for i, span := range ls.Spans {
		clearance, deep := strung.Spans[i].Clearance, partsDepth(ls)
		switch touches := span.Touch > 0; {
		case touches && clearance > deep:
			t.Errorf("span %d lies on the blank for %g m but clears it by %g", i, span.Touch, clearance)
		case !touches && clearance < -deep, span.Gap < clearance:
			t.Errorf("span %d clears the blank by %g to %g m", i, clearance, span.Gap)
		}
	}
}

// partsDepth is how far the blank may stand out between the places that the
// line sees of it: κh²/8, h being a quarter of an element.
func partsDepth(ls *beam.LineShape) float64 {
	depth := 0.0
	for i := 1; i < len(ls.S); i++ {
		h := (ls.S[i] - ls.S[i-1]) / 4
		depth = max(depth, h*h/8*max(math.Abs(ls.Curvature[i].Before), math.Abs(ls.Curvature[i-1].After)))
	}
	return depth
}

// A tension found for a turn gives that turn, and is no larger than one that
// was known to.
func TestTensionsFoundGiveTheTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rod, _ := anyEvenRod(t)
		l := anyLine(t, rod)
		known, err := beam.NewSolver(rod).BendLine(l)
		if err != nil {
			t.Fatal(err)
		}
		turn := known.Tip().Turn
		ls, err := beam.NewSolver(rod).BendLineToTurn(l, turn)
		var failure *beam.Failure
		switch {
		case errors.As(err, &failure) && (turn > l.Direction-0.05 || l.Friction != 0):
			// The turn may pass the pull's and come back, or come to a peak that
			// it does not reach without friction, where the search begins.
		case err != nil:
			t.Fatal(err)
		case math.Abs(ls.Tip().Turn-turn) > 1e-8:
			t.Errorf("the tip turns by %g, not %g", ls.Tip().Turn, turn)
		case l.Friction == 0 && ls.Line.Tension > l.Tension*(1+1e-6) && turn < l.Direction-0.05:
			t.Errorf("tension %g N, but %g does it", ls.Line.Tension, l.Tension)
		}
	})
}
