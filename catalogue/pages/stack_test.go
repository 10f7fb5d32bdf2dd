package pages_test

import (
	"strings"
	"testing"

	"rodlore/catalogue/pages"
)

func TestStack(t *testing.T) {
	for _, name := range names(t) {
		releases := modelOf(t, name).releases
		if len(releases) == 0 {
			continue
		}
		for pen, p := range pens() {
			t.Run(name+" "+pen, func(t *testing.T) {
				pic := picture(t)(p.Stack(releases))
				keep(t, "stack-"+name+"-"+pen, pic)
				checkStack(t, readBack(t, pic), releases)
				for _, r := range releases {
					if !strings.Contains(pic.Description, r.Label) {
						t.Errorf("%s is not in the description", r.Label)
					}
				}
			})
		}
	}
}

// checkStack looks for the blanks of all rods, butts above one another and
// lengths to scale.
func checkStack(t *testing.T, svg *element, rods []pages.Labelled) {
	along := svg.scaleOf(t, 0)
	var blanks []*element
	for _, p := range svg.all("path") {
		if strings.HasSuffix(p.attr("d"), "z") && len(p.points(t)) > 6 {
			blanks = append(blanks, p)
		}
	}
	if len(blanks) != len(rods) {
		t.Fatalf("%d blanks of %d rods", len(blanks), len(rods))
	}
	butt, _ := reach(t, blanks[0])
	for i, r := range rods {
		left, right := reach(t, blanks[i])
		near(t, "butt of "+r.Label, left, butt)
		near(t, "length of "+r.Label, right-left, 1e3*r.TotalLength()/along)
	}
}

// reach is how far left and right a path goes.
func reach(t *testing.T, path *element) (left, right float64) {
	points := path.points(t)
	left, right = points[0].X, points[0].X
	for _, p := range points {
		left, right = min(left, p.X), max(right, p.X)
	}
	return left, right
}

func TestStackMarksWhatChanged(t *testing.T) {
	skerry := modelOf(t, "skerry-10").releases
	tests := []struct {
		name     string
		releases []pages.Labelled
		marks    int // rings moved, others, new or gone, and bars
		say      string
	}{
		{"nothing", []pages.Labelled{skerry[0], {Label: "again", Spec: skerry[0].Spec}}, 0, "again: 9 + tip."},
		{"three other rings and the handle", skerry[:2], 4, "2022: 9 + tip; changed: ring parts and handle."},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			pic := picture(t)(pens()["print"].Stack(test.releases))
			svg, marks := readBack(t, pic), 0
			for _, name := range []string{"path", "circle"} {
				for _, e := range svg.all(name) {
					if strings.HasSuffix(e.attr("class"), "series-2") {
						marks++
					}
				}
			}
			if marks != test.marks {
				t.Errorf("%d marks, want %d", marks, test.marks)
			}
			if !strings.Contains(pic.Description, test.say) {
				t.Errorf("%q is not in %q", test.say, pic.Description)
			}
		})
	}
}

func TestRack(t *testing.T) {
	var rods []pages.Labelled
	for _, name := range names(t) {
		rods = append(rods, pages.Labelled{Label: modelOf(t, name).now.Name.Text, Spec: modelOf(t, name).now})
	}
	for pen, p := range pens() {
		pic := picture(t)(p.Rack(rods))
		keep(t, "rack-"+pen, pic)
		checkStack(t, readBack(t, pic), rods)
	}
}

// A name longer than the picture is wide is cut, so that the length and the rings
// beside it stay in the picture.
func TestRackOfALongName(t *testing.T) {
	const name = "The rod that the harbour master asked for, with the handle of the old one and a tip of its own"
	for pen, p := range pens() {
		pic := picture(t)(p.Rack([]pages.Labelled{{Label: name, Spec: modelOf(t, "skerry-10").now}}))
		checkLabels(t, pen, pic)
		if !strings.Contains(pic.Description, name) {
			t.Errorf("%s: the whole name is not in %q", pen, pic.Description)
		}
	}
}

func BenchmarkStack(b *testing.B) {
	releases, p := modelOf(b, "skerry-10").releases, pens()["screen"]
	for b.Loop() {
		picture(b)(p.Stack(releases)).SVG()
	}
}
