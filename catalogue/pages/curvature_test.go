package pages_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"rodlore/catalogue/pages/drawing"
	"rodlore/evaluate"
	"rodlore/models"
)

func TestCurvature(t *testing.T) {
	for _, name := range names(t) {
		s := modelOf(t, name).now
		c, err := evaluate.New(s, models.DefaultSettings()).Curvature()
		if err != nil {
			t.Fatal(err)
		}
		for pen, p := range pens() {
			t.Run(name+" "+pen, func(t *testing.T) {
				pic := picture(t)(p.Curvature(s))
				keep(t, "curvature-"+name+"-"+pen, pic)
				svg := readBack(t, pic)
				checkCurve(t, svg, s, c)
				checkTaken(t, svg, s, c)
				for _, spot := range c.Spots {
					if at := s.Rings[max(spot.Ring, 0)]; spot.Ring >= 0 && !strings.Contains(pic.Description, at.Part.Text+" at "+fmt.Sprintf("%.0f mm", 1e3*at.At.Value)) {
						t.Errorf("the spot of ring %s is not described", at.At.Text)
					}
				}
			})
		}
	}
}

// curveOf is the line of the curvature, and area what is taken out of it.
func curveOf(t *testing.T, svg *element) (curve, area []drawing.Point) {
	for _, p := range svg.all("path") {
		switch points := p.points(t); {
		case p.attr("class") == "line-series-1" && len(points) > len(curve):
			curve = points
		case p.attr("class") == "fill-series-2" && len(points) > len(area):
			area = points
		}
	}
	return curve, area
}

// checkCurve adds the drawn curvature up, which must come to the turn of the
// tip, and looks where it begins and ends.
func checkCurve(t *testing.T, svg *element, s *models.Spec, c *evaluate.Curvature) {
	curve, _ := curveOf(t, svg)
	along := svg.scaleOf(t, 0)
	tip, hold := curve[0], curve[len(curve)-1]
	near(t, "free length", tip.X-hold.X, 1e3*(s.TotalLength()-s.HeldTo())/along)
	var most, turn float64
	for i, pt := range c.Points {
		most = max(most, pt.Bare)
		if i > 0 {
			turn += (pt.S - c.Points[i-1].S) * (pt.Built + c.Points[i-1].Built) / 2
		}
	}
	base, high := axisOf(t, svg, tip.X)
	area := 0.0
	for i := 1; i < len(curve); i++ {
		area += (curve[i-1].X - curve[i].X) * (base - (curve[i].Y+curve[i-1].Y)/2)
	}
	drawn := area * along / 1e3 * most / high
	if math.Abs(drawn-turn) > 0.01*turn { // lines are drawn to a fiftieth of a millimetre
		t.Errorf("%.4f rad are drawn, not %.4f", drawn, turn)
	}
}

// axisOf is the line of no curvature, which ends at the tip, and how high above
// it the largest is: the top of what is drawn in the curve's inks.
func axisOf(t *testing.T, svg *element, tip float64) (base, high float64) {
	for _, p := range svg.all("path") {
		points := p.points(t)
		if p.attr("class") == "line-hair" && len(points) == 2 && points[0].Y == points[1].Y && math.Abs(points[1].X-tip) < 0.1 {
			base = max(base, points[0].Y)
		}
	}
	curve, area := curveOf(t, svg)
	top := drawing.Around(append(curve, area...)...).Min.Y
	return base, base - top
}

// checkTaken holds the filled area against the turn that the spots take out.
func checkTaken(t *testing.T, svg *element, s *models.Spec, c *evaluate.Curvature) {
	_, area := curveOf(t, svg)
	curve, _ := curveOf(t, svg)
	_, high := axisOf(t, svg, curve[0].X)
	var most, turn float64
	for _, pt := range c.Points {
		most = max(most, pt.Bare)
	}
	for _, spot := range c.Spots {
		turn += spot.Turn
	}
	var twice float64 // the shoelace formula
	for i, a := range area {
		b := area[(i+1)%len(area)]
		twice += a.X*b.Y - b.X*a.Y
	}
	drawn := math.Abs(twice) / 2 * svg.scaleOf(t, 0) / 1e3 * most / high
	if math.Abs(drawn-turn) > 0.05*turn { // narrow areas, drawn to a fiftieth of a millimetre
		t.Errorf("%.4f rad are filled, not %.4f", drawn, turn)
	}
}

func BenchmarkCurvature(b *testing.B) {
	s, p := modelOf(b, "skerry-10").now, pens()["screen"]
	for b.Loop() {
		picture(b)(p.Curvature(s)).SVG()
	}
}
