package pages_test

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/say"
	"rodlore/models"
	"rodlore/models/units"
)

// labels are all labels of a picture.
func labels(marks []drawing.Mark) []*drawing.Label {
	var list []*drawing.Label
	for _, m := range marks {
		switch m := m.(type) {
		case *drawing.Label:
			list = append(list, m)
		case *drawing.Group:
			list = append(list, labels(m.Marks)...)
		}
	}
	return list
}

// checkLabels reports labels that lie over each other, and marks outside of the
// picture.
func checkLabels(t *testing.T, what string, p *drawing.Picture) {
	t.Helper()
	paper := drawing.Box{Max: drawing.Point{X: p.Width, Y: p.Height}}
	if !p.Bounds().Within(paper) {
		t.Errorf("%s: %v is not within %v", what, p.Bounds(), paper)
	}
	all := labels(p.Marks)
	for i, a := range all {
		for _, b := range all[i+1:] {
			if letters(a).Overlaps(letters(b)) {
				t.Errorf("%s: %q lies over %q", what, a.Text, b.Text)
			}
		}
	}
}

// letters is the box of a label without what letters leave free in it: figures
// do not hang below the line.
func letters(l *drawing.Label) drawing.Box {
	const free = 0.1
	b, in := l.Bounds(), free*l.Size
	return drawing.Box{Min: drawing.Point{X: b.Min.X + in, Y: b.Min.Y + in}, Max: drawing.Point{X: b.Max.X - in, Y: b.Max.Y - in}}
}

func TestLabelsStayApart(t *testing.T) {
	for _, name := range names(t) {
		for pen, p := range pens() {
			for what, pic := range picturesOf(t, p, name) {
				checkLabels(t, name+" "+what+" "+pen, pic)
			}
		}
	}
}

// ringed is a rod with so many running rings, evenly spaced.
func ringed(t testing.TB, s *models.Spec, n int) *models.Spec {
	rings := []models.Ring{s.Rings[0]}
	reach := float64(s.Rings[len(s.Rings)-1].At.Value)
	for i := range n {
		ring := s.Rings[1]
		ring.At = models.Millimetres(units.Length(math.Round(reach*float64(i+1)/float64(n)*1e3) / 1e3))
		rings = append(rings, ring)
	}
	spec, err := s.WithRings(rings)
	if err != nil {
		t.Fatal(err)
	}
	return spec
}

// From a rod without running rings to more than anybody whips on.
func TestRodsOfAnyRings(t *testing.T) {
	for _, n := range []int{0, 1, 2, 12, 20, 30} {
		for pen, p := range pens() {
			t.Run(strconv.Itoa(n)+" "+pen, func(t *testing.T) {
				old, s := modelOf(t, "groyne-13").now, ringed(t, modelOf(t, "groyne-13").now, n)
				rods := []pages.Labelled{{Label: "before", Spec: old}, {Label: "after", Spec: s}}
				checkLabels(t, "rod", picture(t)(p.Rod(s)))
				checkLabels(t, "trails", p.RingTrails(rods))
				checkLabels(t, "stack", picture(t)(p.Stack(rods)))
				checkLabels(t, "curvature", picture(t)(p.Curvature(s)))
			})
		}
	}
}

func TestUnitsAndDecimals(t *testing.T) {
	comma, err := say.Read("words.yaml", []byte("decimal: comma\n"))
	if err != nil {
		t.Fatal(err)
	}
	point := regexp.MustCompile(`\d\.\d`)
	for _, units := range []string{"metric", "imperial", "both"} {
		set := *models.DefaultSettings()
		set.Units = units
		p := pages.Screen(comma, &set)
		for what, pic := range picturesOf(t, p, "skerry-10") {
			checkLabels(t, units+" "+what, pic)
			inches := false
			for _, l := range labels(pic.Marks) {
				if point.MatchString(l.Text) {
					t.Errorf("%s %s: a decimal point in %q", units, what, l.Text)
				}
				inches = inches || regexp.MustCompile(`\d in$`).MatchString(l.Text)
			}
			if bar := !slices.Contains([]string{"timeline", "waterfall", "step", "swinging"}, what); bar && inches != (units == "imperial") {
				t.Errorf("%s %s: inches: %v", units, what, inches)
			}
		}
	}
}
