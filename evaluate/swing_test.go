package evaluate_test

import (
	"math"
	"testing"

	"rodlore/evaluate"
	"rodlore/models"
)

// A rod that is let go swings at its first natural frequency and dies down to a tenth
// in the time that the figures say, and begins in the shape of the static bend: for a
// uniform cantilever with a load at its end, w(x) = x²(3L − x)/(2L³) of the end's (Gere
// and Timoshenko 1997, Mechanics of Materials, table G-1, case 4).
func TestSwing(t *testing.T) {
	spec, set := uniformPole(t), models.DefaultSettings()
	s, err := evaluate.New(spec, set).Swing()
	if err != nil {
		t.Fatal(err)
	}
	figs, err := evaluate.New(spec, set).Figures()
	if err != nil {
		t.Fatal(err)
	}
	recovery, _ := figs.Get("recovery")
	settle, _ := figs.Get("settle")
	if f := s.Modes[0].Frequency; math.Abs(f/recovery.Value-1) > 1e-9 {
		t.Errorf("it swings at %g Hz and recovers at %g", f, recovery.Value)
	}
	envelope := math.Exp(-2 * math.Pi * s.Modes[0].Frequency * s.Modes[0].Damping * settle.Value)
	if math.Abs(envelope-0.1) > 1e-6 {
		t.Errorf("after %g s it still swings by %g", settle.Value, envelope)
	}
	long := s.S[len(s.S)-1]
	for i, way := range s.At(0) {
		x := long - s.S[i]
		if want := x * x * (3*long - x) / (2 * long * long * long); math.Abs(way-want) > 0.02 { // two modes of all
			t.Errorf("%g m from the tip it begins at %g, not %g", s.S[i], way, want)
		}
	}
	if tip := s.Tip(0); math.Abs(tip-1) > 1e-12 {
		t.Errorf("the tip begins at %g", tip)
	}
}
