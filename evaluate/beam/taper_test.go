package beam_test

import (
	"fmt"
	"math"
	"testing"

	"rodlore/evaluate/beam"
)

// tapered is a rod of unit length whose diameter falls from 1 to c: a cone,
// solid or with the wall in proportion (EI ∝ d⁴, μ ∝ d²), or a thin tube of
// constant wall (EI ∝ d³, μ ∝ d; a wedge of constant width is the same).
func tapered(t testing.TB, c, power float64, tipMass float64, elements int) *beam.Rod {
	d := func(s float64) float64 { return 1 - (1-c)*s }
	piece := beam.Piece{
		To: 1,
		EI: func(s float64) float64 { return math.Pow(d(s), power) },
		Mu: func(s float64) float64 { return math.Pow(d(s), power-2) },
	}
	return newRod(t, []beam.Piece{piece}, []beam.PointMass{{S: 1, Mass: tipMass}}, elements)
}

const cone, thinTube = 4.0, 3.0

// The deflection and turn of tapered cantilevers under small tip loads, by
// integrating M/EI in closed form.
func TestTapersUnderSmallLoads(t *testing.T) {
	for _, c := range []float64{0.9, 0.5, 0.3, 0.15} {
		t.Run(fmt.Sprintf("cone %g", c), func(t *testing.T) {
			rod := tapered(t, c, cone, 0, 80)
			within(t, "tip stiffness", rod.TipStiffness(), 3*c, 1e-8*c)
			const force = 1e-6
			tip := bent(t)(beam.NewSolver(rod).Bend(beam.Load{Force: force, Direction: math.Pi / 2})).Tip()
			turn := force * (1 + 2*c) / (6 * c * c)
			within(t, "turn", tip.Turn, turn, 1e-6*turn) // 80 elements
		})
		t.Run(fmt.Sprintf("thin tube %g", c), func(t *testing.T) {
			give := (math.Log(1/c) - 1.5 + 2*c - c*c/2) / math.Pow(1-c, 3)
			rod := tapered(t, c, thinTube, 0, 80)
			within(t, "tip stiffness", rod.TipStiffness(), 1/give, 1e-8/give)
		})
	}
}

// PL²/EI_root at which the tip of a tapered rod has turned by 60, 70, 80, 85,
// 88 and 89°, by fourth-order shooting to five digits, the last one in doubt.
var turningForces = []struct {
	power, c float64
	force    [6]float64
}{
	{cone, 1, [6]float64{3.4054, 5.0812, 8.6788, 13.233, 20.733, 27.524}},
	{cone, .5, [6]float64{1.2125, 1.7634, 2.8941, 4.2677, 6.4555, 8.3908}},
	{cone, .3, [6]float64{.53173, .76376, 1.2293, 1.7833, 2.6506, 3.4081}},
	{cone, .2, [6]float64{.26664, .38059, .60647, .87219, 1.2841, 1.6411}},
	{cone, .1, [6]float64{.076931, .1092, .17246, .24602, .35884, .45582}},
	{thinTube, .5, [6]float64{1.6343, 2.3896, 3.9542, 5.8716, 8.9474, 11.682}},
	{thinTube, .3, [6]float64{.95648, 1.382, 2.2452, 3.2834, 4.9235, 6.3657}},
	{thinTube, .2, [6]float64{.62752, .89975, 1.4446, 2.0919, 3.104, 3.9874}},
	{thinTube, .1, [6]float64{.30749, .43662, .69051, .9871, 1.4444, 1.8393}},
}

func TestTapersTurned(t *testing.T) {
	turns := [6]float64{60, 70, 80, 85, 88, 89}
	for _, row := range turningForces {
		t.Run(fmt.Sprintf("power %g taper %g", row.power, row.c), func(t *testing.T) {
			s := beam.NewSolver(tapered(t, row.c, row.power, 0, 120))
			for i, want := range row.force {
				sh := bent(t)(s.BendToTurn(beam.Load{Direction: math.Pi / 2}, turns[i]*degree))
				within(t, fmt.Sprintf("force for %g deg", turns[i]), sh.Load.Force/want, 1, 5e-5) // a unit of the fifth digit
			}
		})
	}
}
