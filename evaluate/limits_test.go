package evaluate_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/models/units"
)

func limits(t *testing.T, s *models.Spec) *evaluate.Limits {
	t.Helper()
	l, err := evaluate.New(s, models.DefaultSettings()).Limits()
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// TestLiftsReachTheLimit bends the rod anew by each pull and looks at the
// curvature that comes out: the most strained place must bear what is allowed.
func TestLiftsReachTheLimit(t *testing.T) {
	s, set := plainRod(t, 100, eight...), models.DefaultSettings()
	l := limits(t, s)
	allowed := 0.008 / set.StrainFactor
	free := l.Strains[len(l.Strains)-1].S
	for _, lift := range l.Lifts {
		b, err := evaluate.New(s, set).Bend(evaluate.BendCase{Force: lift.Pull, Direction: lift.Angle, Weight: true, ThroughRings: true})
		if err != nil {
			t.Fatal(err)
		}
		var worst float64
		for _, p := range b.Points {
			worst = max(worst, math.Abs(p.Curvature)*outside(free-p.S)/2)
		}
		// The curve is sampled at 200 places, the most strained lies between.
		if math.Abs(worst-allowed) > 0.005*allowed {
			t.Errorf("%.0f°: %.4g N strains the blank by %.5f, allowed %.5f", lift.Angle*180/math.Pi, lift.Pull, worst, allowed)
		}
	}
}

// outside is the diameter of the blank of plainRod at s from the front of the
// hold, 497.5 mm from the butt, outside the joint.
func outside(s float64) float64 {
	z := 0.4975 + s
	if z > 1.46 {
		return 2e-3 + (8.4e-3-2e-3)*(3-z)/1.54
	}
	return 7.6e-3 + (12e-3-7.6e-3)*(1.54-z)/1.54
}

// TestLiftHigher holds that a rod lifted more upright bears less, and that the
// break then comes nearer the tip (common practice, no source: keep the rod
// low, a high lift bends the thin tip).
func TestLiftHigher(t *testing.T) {
	l := limits(t, plainRod(t, 100, eight...))
	for i := 1; i < len(l.Lifts); i++ {
		if a, b := l.Lifts[i-1], l.Lifts[i]; b.Pull >= a.Pull || b.At > a.At+1e-9 {
			t.Errorf("from %.0f° to %.0f° the pull goes from %.3g to %.3g N and the place from %.3f to %.3f m from the tip",
				a.Angle*180/math.Pi, b.Angle*180/math.Pi, a.Pull, b.Pull, a.At, b.At)
		}
	}
}

func TestLineAngle(t *testing.T) {
	s := plainRod(t, 100, eight...)
	l := limits(t, s)
	if l.Line != 0 || !math.IsNaN(l.LineAngle) {
		t.Errorf("a spec without line gives %g N at %g rad", l.Line, l.LineAngle)
	}
	at60 := l.Lifts[2]
	s.Line.Breaks = models.Given[units.Force]{Value: units.Force(at60.Pull), Text: "given"}
	if got := limits(t, s).LineAngle; math.Abs(got-at60.Angle) > 2e-3 {
		t.Errorf("a line as strong as the pull at 60° reaches the limit at %.2f°", got*180/math.Pi)
	}
	s.Line.Breaks.Value = 0.1
	if got := limits(t, s).LineAngle; !math.IsNaN(got) {
		t.Errorf("a hair reaches the limit at %g rad", got)
	}
}

func TestLimitsWithoutStrainLimit(t *testing.T) {
	s := plainRod(t, 100, eight...)
	s.Materials["carbon"].StrainCompression = models.Given[units.Share]{}
	_, err := evaluate.New(s, models.DefaultSettings()).Limits()
	if err == nil || !strings.Contains(err.Error(), "materials.yaml") {
		t.Errorf("got %v, want what to put where", err)
	}
	f := evaluated(t, s)
	if _, ok := f.Get("load-limit"); ok {
		t.Error("a load limit without strain limit")
	}
	if !slices.ContainsFunc(f.Notes, func(n evaluate.Note) bool { return n.Figure == "load-limit" }) {
		t.Errorf("the notes %q do not say why", f.Notes)
	}
}
