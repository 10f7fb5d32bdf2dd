package evaluate

import (
	"math"

	"rodlore/evaluate/beam"
	"rodlore/evaluate/laminate"
)

// flattened is about how much further the tip of a bent rod would move because
// its sections flatten: what is beyond each place turns by the curvature that
// this adds,
// ∫ Δκ × (r(L) − r(s)) ds with Δκ = κ·Softening, the load's arm taken as it was.
// What stands on the blank holds it round and is left out.
func (r *rod) flattened(sh *beam.Shape) float64 {
	tip := sh.Tip()
	var x, y float64
	for _, p := range r.pieces[r.firstFree():] {
		for i := range p.stations {
			c := &p.stations[i]
			if c.Shell.Radius == 0 {
				continue
			}
			at := sh.At(c.z - r.held)
			folds := laminate.Brazier(c.Shell.Radius, c.Shell.Thickness, c.Shell.Axial, c.Shell.Hoop)
			more := c.weight * at.Curvature * laminate.Softening(math.Abs(at.Curvature)*c.Plain/folds)
			x -= more * (tip.Y - at.Y)
			y += more * (tip.X - at.X)
		}
	}
	return math.Hypot(x, y)
}
