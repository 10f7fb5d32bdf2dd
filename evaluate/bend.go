package evaluate

import (
	"fmt"
	"math"

	"rodlore/evaluate/beam"
	"rodlore/models"
)

// BendCase is a load hung from the tip, or the pull of a line through the
// rings.
type BendCase struct {
	Force     float64 `json:"force"`     // N, 0 or more; the line's tension beyond the tip ring
	Direction float64 `json:"direction"` // rad between the butt's direction, towards the tip, and the pull; π/2 is square to it and down
	Weight    bool    `json:"weight"`    // the rod's own weight acts too

	ThroughRings bool `json:"through-rings"` // the line runs through the rings to the reel
	// Friction is the coefficient of friction in the rings: positive where the
	// line runs towards the reel, negative where it runs out.
	Friction float64 `json:"friction"`
}

// Bent is the free length of a rod, bent with its butt level.
type Bent struct {
	Points []Point // tip first
	Tip    Point
	Error  float64 // bound on the numerical error of the tip's place, m
	// Flattened is about how much further the tip would move because bent tubes
	// flatten, which the bend leaves out, m; 0 where Error is more. It is told
	// for tubes whose wall is known.
	Flattened float64
	Line      *BentLine // with ThroughRings only
}

// BentLine is what the line through the rings does.
type BentLine struct {
	Rings []RingLoad // tip ring first
	Way   []Place    // where the line runs: the reel and then the rings, tip ring last
	Gap   float64    // m, most that the line stands off the blank between two rings
	Touch float64    // m over which it lies on the blank
}

// RingLoad is what the line does to one ring.
type RingLoad struct {
	At   float64 `json:"at"`   // m from the tip
	Load float64 `json:"load"` // N
	Turn float64 `json:"turn"` // rad by which the line turns in it: its wrap angle
}

// Point is one point of a bent rod, its blank's middle.
type Point struct {
	S         float64 `json:"s"`         // m from the tip along the blank
	X         float64 `json:"x"`         // m along the butt from the front of the hold towards the tip
	Y         float64 `json:"y"`         // m down
	Turn      float64 `json:"turn"`      // rad from the butt's direction, down positive
	Curvature float64 `json:"curvature"` // 1/m
}

// bendPoints is how many equal parts of the free length the points divide.
const bendPoints = 200

// Bend bends the rod under a load. The error says why there is no
// equilibrium to be had.
func (on *Rod) Bend(c BendCase) (*Bent, error) {
	r, err := on.mesh()
	if err != nil {
		return nil, err
	}
	s := on.spec
	if c.ThroughRings && r.ringless() {
		return nil, fmt.Errorf("%s: there is no ring to run a line through but the tip ring; pull at that", s.Name)
	}
	rough, err := c.solve(r.rod, beam.NewSolver(r.coarse))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, unfound(err, on.set.Display()))
	}
	solver := beam.NewSolver(r.fine)
	solver.StartFrom(rough.Shape)
	fine, err := c.solve(r.rod, solver)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, unfound(err, on.set.Display()))
	}
	b := newBent(fine.Shape, rough.Shape)
	if more := r.flattened(fine.Shape); more > b.Error {
		b.Flattened = more
	}
	if c.ThroughRings {
		b.Line = newBentLine(s, fine)
	}
	return b, nil
}

// solve bends the kernel's rod; without a line only the Shape is set.
func (c BendCase) solve(r *rod, solver *beam.Solver) (*beam.LineShape, error) {
	if c.ThroughRings {
		l := r.threaded(c.Force, c.Direction, c.Weight)
		l.Radius, l.Surface = r.surface, r // for the gap
		l.Friction = c.Friction
		return solver.BendLine(l)
	}
	sh, err := solver.Bend(beam.Load{Force: c.Force, Direction: c.Direction, Weight: c.Weight})
	return &beam.LineShape{Shape: sh}, err
}

func newBentLine(s *models.Spec, sh *beam.LineShape) *BentLine {
	b := &BentLine{Gap: sh.Gap, Touch: sh.Touch, Way: []Place{{sh.Reel.X, sh.Reel.Y}}}
	for i, g := range s.Rings {
		load := sh.Rings[len(sh.Rings)-1-i]
		b.Way = append(b.Way, Place{sh.Rings[i].X, sh.Rings[i].Y})
		b.Rings = append(b.Rings, RingLoad{At: float64(g.At.Value), Load: load.Force, Turn: load.Turn})
	}
	return b
}

// newBent samples a shape from the tip to the hold.
func newBent(fine, rough *beam.Shape) *Bent {
	free := fine.Tip().S
	b := &Bent{Error: math.Hypot(fine.Tip().X-rough.Tip().X, fine.Tip().Y-rough.Tip().Y)}
	for i := range bendPoints + 1 {
		p := fine.At(free * float64(bendPoints-i) / bendPoints)
		b.Points = append(b.Points, Point{S: free - p.S, X: p.X, Y: p.Y, Turn: p.Turn, Curvature: p.Curvature})
	}
	b.Tip = b.Points[0]
	return b
}
