package beam_test

import (
	"fmt"
	"math"
	"testing"

	"rodlore/evaluate/beam"
)

// deadLoad is a case of dead_loads.json: a tapered rod under a tip force of
// fixed direction, by DOP853 shooting and by an independent energy method.
type deadLoad struct {
	Rod          string       `json:"rod"`
	Force        float64      `json:"force_N"`
	Pull         float64      `json:"pull_deg"`
	Weight       bool         `json:"weight"`
	Rings        bool         `json:"rings"`
	X            float64      `json:"x_m"`
	Y            float64      `json:"y_m"`
	Turn         float64      `json:"turn_deg"`
	ButtMoment   float64      `json:"butt_moment_Nm"`
	MaxCurvature float64      `json:"max_curvature_1pm"`
	CalculiX     *[3]float64  `json:"calculix_x_y_turn_deg"`
	Curve        [][4]float64 `json:"curve_s_x_y_turn_deg"`
}

func (d deadLoad) String() string {
	return fmt.Sprintf("%s %g N at %g deg weight %v rings %v", d.Rod, d.Force, d.Pull, d.Weight, d.Rings)
}

func (d deadLoad) load() beam.Load {
	return beam.Load{Force: d.Force, Direction: d.Pull * degree, Weight: d.Weight}
}

func TestTaperedRodsUnderDeadLoads(t *testing.T) {
	rods := readJSON[map[string]referenceRod](t, "rods.json")
	for _, d := range readJSON[[]deadLoad](t, "dead_loads.json") {
		t.Run(d.String(), func(t *testing.T) {
			sh, err := beam.NewSolver(rods[d.Rod].mesh(t, d.Rings, 240)).Bend(d.load())
			if err != nil {
				t.Fatal(err)
			}
			d.check(t, sh)
		})
	}
}

func (d deadLoad) check(t *testing.T, sh *beam.Shape) {
	const (
		metres  = 1e-7 // the reference is good for 1e-8, 240 elements for about 5e-8
		degrees = 6e-6 // the same, 1e-7 rad
	)
	tip := sh.Tip()
	within(t, "x of the tip", tip.X, d.X, metres)
	within(t, "y of the tip", tip.Y, d.Y, metres)
	within(t, "turn of the tip", tip.Turn/degree, d.Turn, degrees)
	for _, p := range d.Curve {
		at := sh.At(p[0])
		within(t, fmt.Sprintf("x at %g m", p[0]), at.X, p[1], metres)
		within(t, fmt.Sprintf("y at %g m", p[0]), at.Y, p[2], metres)
		within(t, fmt.Sprintf("turn at %g m", p[0]), at.Turn/degree, p[3], degrees)
	}
	if d.Curve != nil {
		within(t, "moment at the butt", sh.MomentAt(0), d.ButtMoment, 1e-6*d.ButtMoment)
		within(t, "largest curvature", largestCurvature(sh), d.MaxCurvature, 1e-4*d.MaxCurvature)
	}
	if d.CalculiX != nil { // good for 4e-5 m and 0.021° by its own convergence
		within(t, "x of the tip, CalculiX", tip.X, d.CalculiX[0], 5e-5)
		within(t, "y of the tip, CalculiX", tip.Y, d.CalculiX[1], 5e-5)
		within(t, "turn of the tip, CalculiX", tip.Turn/degree, d.CalculiX[2], 0.021)
	}
}

// largestCurvature looks closely enough that a flat maximum is met within 1e-5
// of its value, and at both sides of every node.
func largestCurvature(sh *beam.Shape) float64 {
	largest := 0.0
	for i := range sh.S {
		largest = max(largest, math.Abs(sh.Curvature[i].Before), math.Abs(sh.Curvature[i].After))
		if i > 0 {
			largest = max(largest, math.Abs(sh.At((sh.S[i-1]+sh.S[i])/2).Curvature))
		}
	}
	return largest
}

func TestForceForATurn(t *testing.T) {
	rods := readJSON[map[string]referenceRod](t, "rods.json")
	rows, names := readCSV(t, "turns.csv")
	for i, row := range rows {
		name := fmt.Sprintf("%s to %g deg at %g deg weight %g", names[i], row["turn_deg"], row["pull_deg"], row["weight"])
		t.Run(name, func(t *testing.T) {
			l := beam.Load{Direction: row["pull_deg"] * degree, Weight: row["weight"] == 1}
			sh, err := beam.NewSolver(rods[names[i]].mesh(t, false, 240)).BendToTurn(l, row["turn_deg"]*degree)
			if err != nil {
				t.Fatal(err)
			}
			// The turn is good for 6e-6°; what that is in force, the row says.
			within(t, "ln of the force", math.Log(sh.Load.Force), math.Log(row["force_N"]), 6e-6/row["turn_deg_per_ln_force"])
			within(t, "turn", sh.Tip().Turn, row["turn_deg"]*degree, 1e-9)
			within(t, "x of the tip", sh.Tip().X, row["x_m"], 1e-6)
			within(t, "y of the tip", sh.Tip().Y, row["y_m"], 1e-6)
		})
	}
}

func TestForceForADrop(t *testing.T) {
	rods := readJSON[map[string]referenceRod](t, "rods.json")
	for _, d := range readJSON[[]deadLoad](t, "dead_loads.json") {
		if d.Force == 0 {
			continue
		}
		t.Run(d.String(), func(t *testing.T) {
			sh, err := beam.NewSolver(rods[d.Rod].mesh(t, d.Rings, 240)).BendToDrop(d.load(), d.Y)
			if err != nil {
				t.Fatal(err)
			}
			within(t, "drop", sh.Tip().Y, d.Y, 1e-9)
			// A metre of drop costs at most 40 N here, so 1e-7 m costs 4e-6 N.
			within(t, "force", sh.Load.Force, d.Force, 4e-6)
			within(t, "turn", sh.Tip().Turn/degree, d.Turn, 1e-5)
		})
	}
}
