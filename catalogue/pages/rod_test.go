package pages_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/drawing"
	"rodlore/models"
)

// onPaper is a rod read back from its drawing.
type onPaper struct {
	svg           *element
	spec          *models.Spec
	along, across float64 // scales
	tip, axis     float64 // where the tip and the middle of the blank lie, mm
}

// blankOf is the outline of the blank: of all closed paths the one with the
// most corners.
func blankOf(t testing.TB, svg *element) []drawing.Point {
	var blank []drawing.Point
	for _, p := range svg.all("path") {
		if points := p.points(t); strings.HasSuffix(p.attr("d"), "z") && len(points) > len(blank) {
			blank = points
		}
	}
	return blank
}

func readRod(t testing.TB, p *drawing.Picture, s *models.Spec) onPaper {
	svg := readBack(t, p)
	box := drawing.Around(blankOf(t, svg)...)
	r := onPaper{svg: svg, spec: s, along: svg.scaleOf(t, 0), across: svg.scaleOf(t, 1), tip: box.Max.X, axis: (box.Min.Y + box.Max.Y) / 2}
	near(t, "length of the blank", box.Max.X-box.Min.X, 1e3*s.TotalLength()/r.along)
	return r
}

// at is how far left of the tip s metres from it are drawn, mm.
func (r onPaper) at(s float64) float64 { return 1e3 * s / r.along }

func TestRodToScale(t *testing.T) {
	for _, name := range names(t) {
		s := modelOf(t, name).now
		for pen, p := range pens() {
			t.Run(name+" "+pen, func(t *testing.T) {
				pic := picture(t)(p.Rod(s))
				keep(t, "rod-"+name+"-"+pen, pic)
				r := readRod(t, pic, s)
				r.checkRings(t)
				r.checkJoints(t)
				r.checkGrips(t)
			})
		}
	}
}

func (r onPaper) checkRings(t *testing.T) {
	side := 1.0
	if r.spec.Reel.Kind.OnTop() {
		side = -1
	}
	for _, ring := range r.spec.Rings {
		g := r.svg.group(fmt.Sprintf("%s at %.0f mm", ring.Part.Text, 1e3*ring.At.Value))
		if g == nil {
			t.Errorf("no ring %s", ring.At.Text)
			continue
		}
		paths := g.all("path")
		inside := paths[len(paths)-1].points(t)
		part := r.spec.Parts[ring.Part.Text]
		near(t, ring.At.Text+" place", r.tip-inside[0].X, r.at(float64(ring.At.Value)))
		near(t, ring.At.Text+" size", math.Abs(inside[1].Y-inside[0].Y), 1e3*float64(part.Size.Value)/r.across)
		radius := r.radius(t, inside[0].X)
		near(t, ring.At.Text+" height", side*((inside[0].Y+inside[1].Y)/2-r.axis)-radius, 1e3*float64(part.Height.Value)/r.across)
	}
}

// radius is half of what the blank measures at x, mm.
func (r onPaper) radius(t *testing.T, x float64) float64 {
	points := blankOf(t, r.svg)
	for i := 1; i < len(points)/2; i++ {
		a, b := points[i-1], points[i]
		if x >= min(a.X, b.X) && x <= max(a.X, b.X) && a.X != b.X {
			return math.Abs(a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X) - r.axis)
		}
	}
	t.Errorf("no blank at %g", x)
	return 0
}

// checkJoints looks for the dashed lines at both ends of every joint.
func (r onPaper) checkJoints(t *testing.T) {
	for _, at := range r.spec.JointSpans() {
		for _, s := range []float64{at.From, at.To} {
			nearest := math.Inf(1)
			for _, p := range r.svg.all("path") {
				if p.attr("stroke-dasharray") != "" {
					nearest = min(nearest, math.Abs(r.tip-p.points(t)[0].X-r.at(s)))
				}
			}
			near(t, "end of a joint", nearest, 0)
		}
	}
}

// checkGrips looks for the outline of every grip, of its thickness at the back.
func (r onPaper) checkGrips(t *testing.T) {
	for _, g := range r.spec.Handle.Grips {
		from, to := r.tip-r.at(r.spec.TotalLength()-float64(g.From.Value)), r.tip-r.at(r.spec.TotalLength()-float64(g.To.Value))
		off := math.Inf(1)
		for _, p := range r.svg.all("path") {
			if c := p.points(t); len(c) == 4 {
				thick := 1e3 * float64(g.Diameter.Value) / r.across
				off = min(off, max(math.Abs(c[0].X-from), math.Abs(c[1].X-to), math.Abs(math.Abs(c[3].Y-c[0].Y)-thick)))
			}
		}
		near(t, "grip at "+g.From.Text, off, 0)
	}
}

func TestRodSaysInWords(t *testing.T) {
	for _, name := range names(t) {
		s := modelOf(t, name).now
		pic := picture(t)(pens()["screen"].Rod(s))
		for _, ring := range s.Rings {
			if want := fmt.Sprintf("%s at %.0f mm", ring.Part.Text, 1e3*ring.At.Value); !strings.Contains(pic.Description, want) {
				t.Errorf("%s: %q is not in %q", name, want, pic.Description)
			}
		}
		if !strings.Contains(pic.Title, s.Name.Text) || strings.Contains(pic.Description, "{") {
			t.Errorf("%s: %q, %q", name, pic.Title, pic.Description)
		}
	}
}

// Who measures in inches still buys rings by their millimetres (common practice,
// no source).
func TestRodInInches(t *testing.T) {
	set := *models.DefaultSettings()
	set.Units = "imperial"
	s := modelOf(t, "skerry-10").now
	pic := picture(t)(pages.Print(pensWords, &set).Standard().Rod(s))
	told := " " + strings.Join(readBack(t, pic).texts(), " ") + " "
	for _, want := range []string{"rings: from the tip in inches, sizes in mm", "handle: from the butt in inches", " 70 1/2 20 49 3/16 16 ", " seat "} {
		if !strings.Contains(told, want) {
			t.Errorf("%q is missing in %q", want, told)
		}
	}
}

func TestRodThatIsNone(t *testing.T) {
	s := *modelOf(t, "skerry-10").now
	m := *s.Model
	m.Held = models.Millimetres(9)
	s.Model = &m
	if _, err := pens()["screen"].Rod(&s); err == nil || !strings.Contains(err.Error(), "nothing is free to bend") {
		t.Errorf("a rod that is held all along: %v", err)
	}
}

func BenchmarkRod(b *testing.B) {
	s, p := modelOf(b, "groyne-13").now, pens()["screen"]
	for b.Loop() {
		picture(b)(p.Rod(s)).SVG()
	}
}
