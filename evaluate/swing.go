package evaluate

import (
	"math"
	"slices"
)

// Swing is how a rod swings by itself after a load hung from its tip is let go:
// the sum of its modes, each dying down.
type Swing struct {
	S     []float64 // m from the tip, tip first
	Modes []SwingMode
}

// SwingMode is one of the modes of a Swing.
type SwingMode struct {
	Frequency float64   // Hz
	Damping   float64   // share of critical
	Share     float64   // of the tip's way as it is let go; over all modes they add up to 1
	Shape     []float64 // at the places of S, 1 at the tip
}

// swingModes are so many as one sees: of the third a tip's way has 2 % or less.
const swingModes = 2

// Swing works out how the rod swings, held as for a bend and about straight. The
// static bend under a load at the tip is that of modes in the proportion of 1/(Mω²),
// with M their modal mass (mode superposition: Clough and Penzien 1993, Dynamics of
// Structures, chapter 12; from memory). Every mode is damped by the same share of critical, of which only that
// of the first is measured.
func (on *Rod) Swing() (*Swing, error) {
	m, err := on.mesh()
	if err != nil {
		return nil, err
	}
	modes, err := m.fine.Modes(swingModes)
	if err != nil {
		return nil, err
	}
	s := &Swing{}
	long, give := m.fine.Length(), 0.0
	for _, at := range slices.Backward(modes[0].S) {
		s.S = append(s.S, long-at)
	}
	for _, mode := range modes {
		shape := slices.Clone(mode.Shape)
		slices.Reverse(shape)
		share := 1 / (mode.ModalMass * mode.Frequency * mode.Frequency)
		give += share
		s.Modes = append(s.Modes, SwingMode{mode.Frequency, m.damping(on.set), share, shape})
	}
	for i := range s.Modes {
		s.Modes[i].Share /= give
	}
	return s, nil
}

// Tip is where the tip is so many seconds after it was let go, as a share of where
// it was.
func (s *Swing) Tip(seconds float64) float64 { return s.at(0, seconds) }

// At is where every place of S is then, as a share of where the tip was.
func (s *Swing) At(seconds float64) []float64 {
	way := make([]float64, len(s.S))
	for i := range way {
		way[i] = s.at(i, seconds)
	}
	return way
}

func (s *Swing) at(i int, seconds float64) float64 {
	var sum float64
	for _, m := range s.Modes {
		w := 2 * math.Pi * m.Frequency
		sum += m.Share * m.Shape[i] * math.Exp(-m.Damping*w*seconds) * math.Cos(w*math.Sqrt(1-m.Damping*m.Damping)*seconds)
	}
	return sum
}
