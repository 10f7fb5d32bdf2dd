package beam_test

import (
	"fmt"
	"testing"

	"rodlore/evaluate/beam"
)

// lineCase is a case of line.json: a tapered rod bent by a line through its
// rings, by DOP853 shooting on all line directions and by an independent
// minimisation of the energy.
type lineCase struct {
	Rod        string       `json:"rod"`
	Rings      string       `json:"rings"`
	Tension    float64      `json:"tension_N"`
	Pull       float64      `json:"pull_deg"`
	Weight     bool         `json:"weight"`
	X          float64      `json:"x_m"`
	Y          float64      `json:"y_m"`
	Turn       float64      `json:"turn_deg"`
	TipRingX   float64      `json:"tip_ring_x_m"`
	TipRingY   float64      `json:"tip_ring_y_m"`
	ButtMoment float64      `json:"butt_moment_Nm"`
	Loads      []float64    `json:"ring_loads_N"`
	TipLoad    float64      `json:"tip_ring_load_N"`
	ReelLoad   float64      `json:"reel_load_N"`
	LoadAngles []float64    `json:"load_to_blank_deg"`
	Directions []float64    `json:"line_directions_deg"`
	Length     float64      `json:"line_length_reel_to_tip_ring_m"`
	ReelGap    float64      `json:"largest_gap_reel_to_first_ring_m"`
	Gaps       []float64    `json:"largest_gaps_between_rings_m"`
	Clearance  float64      `json:"smallest_gap_m"`
	Curve      [][4]float64 `json:"curve_s_x_y_turn_deg"`
}

func (c lineCase) String() string {
	return fmt.Sprintf("%s %s %g N at %g deg weight %v", c.Rod, c.Rings, c.Tension, c.Pull, c.Weight)
}

func (c lineCase) line(r referenceRod) beam.Line {
	l := beam.Line{Tension: c.Tension, Direction: c.Pull * degree, Weight: c.Weight, Reel: ring(r.Reel)}
	for _, at := range r.Layouts[c.Rings] {
		l.Rings = append(l.Rings, ring(at))
	}
	return l
}

func ring(at [2]float64) beam.LineRing { return beam.LineRing{S: at[0], Offset: at[1]} }

func TestLineThroughRings(t *testing.T) {
	rods := readJSON[map[string]referenceRod](t, "rods.json")
	for _, c := range readJSON[[]lineCase](t, "line.json") {
		t.Run(c.String(), func(t *testing.T) {
			l := c.line(rods[c.Rod])
			ls, err := beam.NewSolver(lineRod(t, rods[c.Rod].pieces(), l, 240)).BendLine(l)
			if err != nil {
				t.Fatal(err)
			}
			c.check(t, ls)
		})
	}
}

func (c lineCase) check(t *testing.T, ls *beam.LineShape) {
	tip := ls.Tip()
	within(t, "x of the tip", tip.X, c.X, 1e-7)
	within(t, "y of the tip", tip.Y, c.Y, 1e-7)
	within(t, "turn of the tip", tip.Turn/degree, c.Turn, 6e-6)
	for i, load := range c.Loads {
		within(t, fmt.Sprintf("load of ring %d", i), ls.Rings[i].Force, load, 1e-6)
	}
	within(t, "load of tipring", ls.Rings[len(c.Loads)].Force, c.TipLoad, 1e-6)
	within(t, "length", ls.Length, c.Length, 1e-7)
	within(t, "gap reel", ls.Spans[0].Gap, c.ReelGap, 1e-6)
	for i, gap := range c.Gaps {
		within(t, fmt.Sprintf("gap %d", i), ls.Spans[i+1].Gap, gap, 1e-6)
	}
	within(t, "moment at the butt", ls.At(0).Moment, c.ButtMoment, 1e-6*c.ButtMoment)
	for _, p := range c.Curve {
		at := ls.At(p[0])
		within(t, fmt.Sprintf("x at %g m", p[0]), at.X, p[1], 1e-7)
		within(t, fmt.Sprintf("y at %g m", p[0]), at.Y, p[2], 1e-7)
		within(t, fmt.Sprintf("turn at %g m", p[0]), at.Turn/degree, p[3], 6e-6)
	}
}

// lineRod is a rod with nodes at the rings of a line, which weigh nothing.
func lineRod(t testing.TB, pieces []beam.Piece, l beam.Line, elements int) *beam.Rod {
	t.Helper()
	var marks []beam.PointMass
	for _, ring := range append(l.Rings, l.Reel) {
		if ring.S > 0 {
			marks = append(marks, beam.PointMass{S: ring.S})
		}
	}
	return newRod(t, pieces, marks, elements)
}

func TestTensionForATurn(t *testing.T) {
	rods := readJSON[map[string]referenceRod](t, "rods.json")
	for _, c := range readJSON[[]lineCase](t, "line.json") {
		t.Run(c.String(), func(t *testing.T) {
			l := c.line(rods[c.Rod])
			ls, err := beam.NewSolver(lineRod(t, rods[c.Rod].pieces(), l, 240)).BendLineToTurn(l, c.Turn*degree)
			if err != nil {
				t.Fatal(err)
			}
			within(t, "turn", ls.Tip().Turn/degree, c.Turn, 1e-9)
			// The turn is good for 6e-6°, and costs at most 0.4 N a degree here.
			within(t, "tension", ls.Line.Tension, c.Tension, 2.4e-6)
			within(t, "y of the tip", ls.Tip().Y, c.Y, 1e-6)
		})
	}
}
