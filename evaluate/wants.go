package evaluate

import (
	"fmt"

	"rodlore/models"
)

// Wanted is one limit of a spec's wants, held against the figure.
type Wanted struct {
	models.Want
	Value float64 // of the figure, in its unit
	Unit  string
	Known bool // the rod has the figure
	Met   bool
}

// Wants holds a spec's wants against its figures, in the order of the spec.
func Wants(s *models.Spec, f *Figures) []Wanted {
	var out []Wanted
	for _, w := range s.Wants {
		fig, ok := f.Get(w.Figure)
		out = append(out, Wanted{
			Want: w, Value: fig.Value, Unit: fig.Unit, Known: ok,
			Met: ok && w.Min <= fig.Value && fig.Value <= w.Max,
		})
	}
	return out
}

// Tell tells how the want stands: "weight: at most 180 g, is 195.4 g: missed".
func (w Wanted) Tell(d Display) string {
	name := Short(w.Figure)
	switch {
	case !w.Known:
		return fmt.Sprintf("%s: %s, but the rod has no such figure", name, w.Text)
	case w.Met:
		return fmt.Sprintf("%s: %s, is %s", name, w.Text, d.Value(w.Figure, w.Unit, w.Value))
	}
	return fmt.Sprintf("%s: %s, is %s: missed", name, w.Text, d.Value(w.Figure, w.Unit, w.Value))
}
