package evaluate

import (
	"math"
	"testing"

	"rodlore/models"
)

func TestCurvatureOf(t *testing.T) {
	for _, name := range []string{"skerry-10", "groyne-13", "ferry-8"} {
		t.Run(name, func(t *testing.T) {
			s, set := demoSpec(t, name), models.DefaultSettings()
			c, err := New(s, set).Curvature()
			if err != nil {
				t.Fatal(err)
			}
			checkSpots(t, s, set, c)
			checkIntegral(t, s, set, c)
		})
	}
}

// checkSpots holds the flat spots against the figures.
func checkSpots(t *testing.T, s *models.Spec, set *models.Settings, c *Curvature) {
	figs, err := New(s, set).Figures()
	if err != nil {
		t.Fatal(err)
	}
	turn, worst := 0.0, 0.0
	for _, spot := range c.Spots {
		lost := deepest(c, spot.Span)
		turn, worst = turn+spot.Turn, max(worst, lost)
		if (spot.Ring < 0) == (spot.Joint < 0) || spot.At < spot.From-1e-9 || spot.At > spot.To+1e-9 {
			t.Errorf("a spot that is nothing's or not where it is: %+v", spot)
		}
	}
	flat, _ := figs.Get("flat-turn")
	if math.Abs(turn-flat.Value) > flat.Error+1e-9 {
		t.Errorf("the spots take out %g, flat-turn is %g", turn, flat.Value)
	}
	deep, _ := figs.Get("flat-worst")
	if math.Abs(worst-deep.Value) > 0.01 { // of the curvature, between the points
		t.Errorf("the flattest spot is %g, flat-worst %g", worst, deep.Value)
	}
}

// deepest is the largest share of the curvature lost on a span.
func deepest(c *Curvature, at models.Span) float64 {
	most := 0.0
	for _, p := range c.Points {
		if p.S >= at.From && p.S <= at.To {
			most = max(most, 1-p.Built/p.Bare)
		}
	}
	return most
}

// checkIntegral holds the curvature, added up, against the turn of the tip that
// Bend finds under the same pull.
func checkIntegral(t *testing.T, s *models.Spec, set *models.Settings, c *Curvature) {
	var turn float64
	for i := 1; i < len(c.Points); i++ {
		a, b := c.Points[i-1], c.Points[i]
		turn += (a.Built + b.Built) / 2 * (b.S - a.S)
	}
	bent, err := New(s, set).Bend(BendCase{Force: c.Load, Direction: math.Pi / 2, Weight: true, ThroughRings: true})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(turn-bent.Tip.Turn) > 2e-3*bent.Tip.Turn { // trapezoids between some four hundred points
		t.Errorf("the curvature adds up to %g rad, the tip turns by %g", turn, bent.Tip.Turn)
	}
	if n := len(bent.Line.Way); n != len(s.Rings)+1 || math.Hypot(bent.Line.Way[n-1].X-bent.Tip.X, bent.Line.Way[n-1].Y-bent.Tip.Y) > 0.05 {
		t.Errorf("the line's way of %d places does not end at the tip ring", n)
	}
}

func BenchmarkCurvatureOf(b *testing.B) {
	s, set := demoSpec(b, "skerry-10"), models.DefaultSettings()
	for b.Loop() {
		if _, err := New(s, set).Curvature(); err != nil {
			b.Fatal(err)
		}
	}
}
