package beam_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"

	"rodlore/evaluate/beam"
)

// uniform is a rod of unit length and stiffness and that mass per length.
func uniform(t testing.TB, mu float64, elements int) *beam.Rod {
	return newRod(t, []beam.Piece{{To: 1, EI: constant(1), Mu: constant(mu)}}, nil, elements)
}

func constant(v float64) func(float64) float64 { return func(float64) float64 { return v } }

// elastica is the closed form of a uniform rod of unit length and stiffness
// whose tip is turned by that much by a force square to the butt: Bisshopp and
// Drucker 1945, Quart. Appl. Math. 3:272, in the parameter m = k² of the
// elliptic integrals.
func elastica(turn float64) (force, x, y float64) {
	m := (1 + math.Sin(turn)) / 2
	phi := math.Asin(1 / math.Sqrt(2*m))
	root := mathext.CompleteK(m) - mathext.EllipticF(phi, m)
	y = 1 - 2*(mathext.CompleteE(m)-mathext.EllipticE(phi, m))/root
	return root * root, math.Sqrt(2*math.Sin(turn)) / root, y
}

func TestElasticaInClosedForm(t *testing.T) {
	s := beam.NewSolver(uniform(t, 0, 120))
	for _, degrees := range []float64{5, 20, 40, 60, 75, 80, 85, 88, 89, 89.5} {
		t.Run(fmt.Sprintf("%g deg", degrees), func(t *testing.T) {
			force, x, y := elastica(degrees * degree)
			// 120 elements: 1e-9 of the length while the bend is spread over the
			// rod, 2e-8 where half of it happens in a tenth of the length.
			const tolerance = 2e-8
			l := beam.Load{Direction: math.Pi / 2}
			turned := bent(t)(s.BendToTurn(l, degrees*degree))
			within(t, "force for the turn", turned.Load.Force/force, 1, 5e-8)
			dropped := bent(t)(s.BendToDrop(l, y))
			within(t, "force for the drop", dropped.Load.Force/force, 1, 2e-7)
			l.Force = force
			tip := bent(t)(s.Bend(l)).Tip()
			within(t, "turn", tip.Turn, degrees*degree, tolerance)
			within(t, "x", tip.X, x, tolerance)
			within(t, "y", tip.Y, y, tolerance)
		})
	}
}

// The large deflections of a uniform cantilever as printed by Bisshopp and
// Drucker (1945, Quart. Appl. Math. 3:272) and by Mattiasson (1981, Int. J.
// Num. Meth. Eng. 17:145): the first rows as others quote them from there, the
// rest worked out from the closed form with 30 digits.
var printedElastica = []struct{ force, y, shortening, turn float64 }{
	{1, .30172077, .05643324, .46135195},
	{2, .49345748, .16064172, .78174983},
	{5, .71379152, .38762836, 1.2153681},
	{0.2, .06636448, .00264655, .09963616},
	{0.5, .16214358, .01591896, .24453365},
	{1.5, .41097821, .10794150, .63953983},
	{3, .60325344, .25442018, .98601695},
	{4, .66996418, .32894124, 1.1212393},
	{6, .74457115, .43458883, 1.2836973},
	{7, .76736910, .47292743, 1.3349599},
	{8, .78498237, .50482773, 1.3744315},
	{9, .79905553, .53182056, 1.4054653},
	{10, .81060902, .55499560, 1.4302855},
	{15, .84771567, .63528578, 1.5018402},
	{20, .86869590, .68388557, 1.5329350},
	{50, .91715545, .80000040, 1.5679819},
}

func TestElasticaAsPrinted(t *testing.T) {
	s := beam.NewSolver(uniform(t, 0, 120))
	for _, row := range printedElastica {
		t.Run(fmt.Sprintf("PL2/EI %g", row.force), func(t *testing.T) {
			tip := bent(t)(s.Bend(beam.Load{Force: row.force, Direction: math.Pi / 2})).Tip()
			within(t, "drop", tip.Y, row.y, 1.5e-8) // half a unit of the eighth digit, and the mesh
			within(t, "shortening", 1-tip.X, row.shortening, 1.5e-8)
			within(t, "turn", tip.Turn, row.turn, 7e-8) // seven digits where it is over 1
		})
	}
	third := bent(t)(s.BendToDrop(beam.Load{Direction: math.Pi / 2}, 1.0/3))
	within(t, "force for a third", third.Load.Force, 1.1313428, 7e-8)
	within(t, "turn at a third", third.Tip().Turn/degree, 29.33243, 6e-6)
}

// Pulls other than square, by elliptic integrals of 30 digits and by shooting.
func TestElasticaUnderInclinedPulls(t *testing.T) {
	rows, _ := readCSV(t, "elastica.csv")
	s := beam.NewSolver(uniform(t, 0, 160))
	for _, row := range rows {
		t.Run(fmt.Sprintf("PL2/EI %g at %g deg", row["PL2_over_EI"], row["pull_deg"]), func(t *testing.T) {
			l := beam.Load{Force: row["PL2_over_EI"], Direction: row["pull_deg"] * degree}
			tip := bent(t)(s.Bend(l)).Tip()
			within(t, "x", tip.X, row["x_over_L"], 3e-9)
			within(t, "y", tip.Y, row["y_over_L"], 3e-9)
			within(t, "turn", tip.Turn, row["turn_rad"], 3e-9)
			turned := bent(t)(s.BendToTurn(l, row["turn_rad"]))
			within(t, "force for the turn", turned.Load.Force, l.Force, 3e-8*l.Force)
		})
	}
}

// A uniform rod under its own weight (Rohde 1953, Quart. Appl. Math. 11:337;
// Wang 1986, Int. J. Mech. Sci. 28:549): the values by Taylor series, shooting
// and a boundary-value solver.
func TestHeavyElastica(t *testing.T) {
	rows, _ := readCSV(t, "heavy_elastica.csv")
	for _, row := range rows {
		t.Run(fmt.Sprintf("qL3/EI %g", row["qL3_over_EI"]), func(t *testing.T) {
			s := beam.NewSolver(uniform(t, row["qL3_over_EI"]/beam.Gravity, 160))
			tip := bent(t)(s.Bend(beam.Load{Weight: true})).Tip()
			within(t, "x", tip.X, row["x_over_L"], 2e-8)
			within(t, "y", tip.Y, row["y_over_L"], 2e-8)
			within(t, "turn", tip.Turn, row["turn_rad"], 2e-8)
		})
	}
	t.Run("small", func(t *testing.T) { // wL⁴/8EI and wL³/6EI of any handbook
		const q = 1e-4
		tip := bent(t)(beam.NewSolver(uniform(t, q/beam.Gravity, 40)).Bend(beam.Load{Weight: true})).Tip()
		within(t, "drop", tip.Y, q/8, 1e-8*q) // the next term is of the order of q²
		within(t, "turn", tip.Turn, q/6, 1e-8*q)
	})
}

// PL³/3EI and PL²/2EI of any handbook.
func TestSmallLoads(t *testing.T) {
	const force = 1e-4
	rod := uniform(t, 0, 40)
	tip := bent(t)(beam.NewSolver(rod).Bend(beam.Load{Force: force, Direction: math.Pi / 2})).Tip()
	within(t, "drop", tip.Y, force/3, 1e-8*force) // the next term is of the order of force²
	within(t, "turn", tip.Turn, force/2, 1e-8*force)
	within(t, "tip stiffness", rod.TipStiffness(), 3, 1e-12)
}

// A force on an arm a million lengths long is a moment M, which bends a uniform
// rod into an arc of θ = ML/EI: x = sin θ/θ, y = (1−cos θ)/θ.
func TestMomentBendsIntoAnArc(t *testing.T) {
	const arm = 1e6
	s := beam.NewSolver(uniform(t, 0, 40))
	for _, degrees := range []float64{10, 45, 90, 120, 140} {
		t.Run(fmt.Sprintf("%g deg", degrees), func(t *testing.T) {
			turn := degrees * degree
			l := beam.Load{Direction: -120 * degree, Offset: arm}
			sh := bent(t)(s.BendToTurn(l, turn))
			// The force itself bends too, by its arm of one length in a million.
			moment := -arm * sh.Load.Force * math.Cos(turn-l.Direction)
			within(t, "moment", moment, turn, 5e-6)
			within(t, "x", sh.Tip().X, math.Sin(turn)/turn, 5e-6)
			within(t, "y", sh.Tip().Y, (1-math.Cos(turn))/turn, 5e-6)
			within(t, "curvature at the butt", sh.Curvature[0].After, turn, 5e-6)
		})
	}
}
