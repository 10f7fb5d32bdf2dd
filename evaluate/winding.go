package evaluate

import (
	"math"

	"rodlore/models"
)

// Winding is what one whipping takes of thread and varnish.
type Winding struct {
	Turns   float64 // of thread, side by side; 0 where the spec names none
	Thread  float64 // m, without its ends
	Varnish float64 // m³ as cured on the rod
}

// Winding works out what a whipping of the outline takes, on the blank's mean
// diameter under it: the foot, which lies under a part of every turn, is left
// out.
func (o *Outline) Winding(s *models.Spec, w Whipping) Winding {
	length, under := w.To-w.From, o.Outside((w.From+w.To)/2)
	var out Winding
	if thread := s.Parts[s.Finish.Thread.Text]; thread != nil {
		pitch := float64(thread.Thickness.Value)
		out.Turns = length / pitch
		// A turn of a helix: its circumference and its pitch at right angles.
		out.Thread = out.Turns * math.Hypot(math.Pi*(under+pitch), pitch)
		under += 2 * pitch
	}
	if varnish := s.Parts[s.Finish.Varnish.Text]; varnish != nil {
		layer := float64(varnish.Thickness.Value)
		out.Varnish = math.Pi * (under + layer) * layer * length
	}
	return out
}
