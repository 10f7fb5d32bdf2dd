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
// diameter under it.
func (o *Outline) Winding(s *models.Spec, w Whipping) Winding {
	length, under := w.To-w.From, o.Outside((w.From+w.To)/2)
	var over, fill, longer float64 // of the foot under it, m and m²
	if w.Ring >= 0 {
		if f := s.Parts[s.Rings[w.Ring].Part.Text].Foot; f.Length.Value > 0 {
			over = min(length, float64(f.Length.Value))
			fill, longer = hollows(under, float64(f.Width.Value), float64(f.Thickness.Value))
		}
	}
	var out Winding
	if thread := s.Parts[s.Finish.Thread.Text]; thread != nil {
		pitch := float64(thread.Thickness.Value)
		out.Turns = length / pitch
		// A turn of a helix: its circumference and its pitch at right angles.
		out.Thread = out.Turns*math.Hypot(math.Pi*(under+pitch), pitch) + over/pitch*longer
		under += 2 * pitch
	}
	if varnish := s.Parts[s.Finish.Varnish.Text]; varnish != nil {
		layer := float64(varnish.Thickness.Value)
		out.Varnish = math.Pi*(under+layer)*layer*(length+2*varnishBeyond) + over*(fill+longer*layer)
	}
	return out
}
