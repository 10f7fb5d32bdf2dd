package evaluate

import (
	"fmt"
	"math"

	"rodlore/evaluate/beam"
	"rodlore/models"
)

// BendCase is a load hung from the tip ring.
type BendCase struct {
	Force     float64 // N, 0 or more
	Direction float64 // rad between the butt's direction, towards the tip, and the pull; π/2 is square to it and down
	Weight    bool    // the rod's own weight acts too
}

// Bent is the free length of a rod, bent with its butt level.
type Bent struct {
	Points []Point // tip first
	Tip    Point
	Error  float64 // bound on the numerical error of the tip's place, m
	Status string  // why the computation stopped
}

// Point is one point of a bent rod, its blank's middle.
type Point struct {
	S         float64 // m from the tip along the blank
	X, Y      float64 // m along the butt from the front of the hold towards the tip; m down
	Turn      float64 // rad from the butt's direction, down positive
	Curvature float64 // 1/m
}

// bendPoints is how many equal parts of the free length the points divide.
const bendPoints = 200

// Bend bends the rod of a spec under a load. The error says why there is no
// equilibrium to be had.
func Bend(s *models.Spec, set *models.Settings, c BendCase) (*Bent, error) {
	r, err := assemble(s, set)
	if err != nil {
		return nil, err
	}
	coarse, err := r.free(coarseElements)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	load := beam.Load{Force: c.Force, Direction: c.Direction, Weight: c.Weight}
	rough, err := beam.NewSolver(coarse).Bend(load)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	solver := beam.NewSolver(coarse.Refined())
	solver.StartFrom(rough)
	fine, err := solver.Bend(load)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	return newBent(fine, rough), nil
}

// newBent samples a shape from the tip to the hold.
func newBent(fine, rough *beam.Shape) *Bent {
	free := fine.Tip().S
	b := &Bent{
		Error:  math.Hypot(fine.Tip().X-rough.Tip().X, fine.Tip().Y-rough.Tip().Y),
		Status: fine.Status.String(),
	}
	for i := range bendPoints + 1 {
		p := fine.At(free * float64(bendPoints-i) / bendPoints)
		b.Points = append(b.Points, Point{S: free - p.S, X: p.X, Y: p.Y, Turn: p.Turn, Curvature: p.Curvature})
	}
	b.Tip = b.Points[0]
	return b
}
