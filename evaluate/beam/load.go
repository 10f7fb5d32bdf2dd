package beam

import (
	"fmt"
	"math"
)

// Gravity is the standard acceleration of free fall in m/s², exact by
// definition (3rd CGPM, 1901; ISO 80000-3).
const Gravity = 9.80665

// Load is what bends the rod: a force of fixed direction at the tip and, where
// asked for, its own weight.
type Load struct {
	Force     float64 // N, 0 or more
	Direction float64 // rad from the clamped tangent; π/2 is square to it and down
	Offset    float64 // m from the tip's centreline to where the force acts, positive on the hollow side
	Weight    bool    // the rod and its point masses pull down as well
}

// String gives the load in the words of an error.
func (l Load) String() string {
	text := fmt.Sprintf("%.6g N at %.6g°", l.Force, l.Direction*180/math.Pi)
	if l.Offset != 0 {
		text += fmt.Sprintf(", %.6g m off the centreline", l.Offset)
	}
	if l.Weight {
		text += ", with weight"
	}
	return text
}

// check refuses what is no load. Directions are kept within half a turn so
// that a turn of the rod towards the force has one meaning.
func (l Load) check() error {
	switch {
	case !finite(l.Force, l.Direction, l.Offset):
		return fmt.Errorf("a load must have finite numbers, not %s", l)
	case l.Force < 0:
		return fmt.Errorf("a force must not be negative (%g N): turn its direction instead", l.Force)
	case math.Abs(l.Direction) > math.Pi:
		return fmt.Errorf("a direction must lie within 180° of the butt's, not at %.6g°", l.Direction*180/math.Pi)
	}
	return nil
}

// gravity is the acceleration that acts under the load.
func (l Load) gravity() float64 {
	if l.Weight {
		return Gravity
	}
	return 0
}

// window is the range of turns that the stable bend must keep to. It is that
// between the butt and the forces (see the package comment), unless offsets or
// a line let the ends turn further, which is never once round.
func (l Load) window(further bool) (low, high float64) {
	low, high = math.Min(0, l.Direction), math.Max(0, l.Direction)
	if l.Weight {
		high = math.Max(high, math.Pi/2)
	}
	if further {
		return low - math.Pi, high + math.Pi
	}
	return low, high
}

// components are those of the force at the tip, in N.
func (l Load) components() (x, y float64) {
	sin, cos := math.Sincos(l.Direction)
	return l.Force * cos, l.Force * sin
}
