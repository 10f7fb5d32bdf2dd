package evaluate

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"rodlore/models"
	"rodlore/models/units"
)

// A whipping of 15 mm with a thread of 0.15 mm on a tube of 7 mm, by hand: 100
// turns of π·7.15 mm, with a pitch of 0.15 mm 2.2462 m together; a layer of
// 0.3 mm on 7.3 mm, 1.5 mm farther at either end, π/4·(7.9² − 7.3²)·18 = 128.93 mm³.
func TestWinding(t *testing.T) {
	spec := &models.Spec{Model: &models.Model{}, Parts: map[string]*models.Part{
		"thread":  {Thickness: models.Millimetres(0.15e-3)},
		"varnish": {Thickness: models.Millimetres(0.3e-3)},
	}}
	o := &Outline{Blank: []Stretch{{models.Span{From: 0, To: 1}, 6.5e-3, 7.5e-3}}}
	w := Whipping{Span: models.Span{From: 0.4925, To: 0.5075}, Ring: -1}
	tests := []struct {
		name            string
		thread, varnish string
		want            Winding
	}{
		{"both", "thread", "varnish", Winding{100, 2.24627, 128.930e-9}},
		{"no varnish", "thread", "", Winding{100, 2.24627, 0}},
		{"no thread", "", "varnish", Winding{0, 0, 123.841e-9}}, // π/4·(7.6² − 7²)·18
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			spec.Finish.Thread.Text, spec.Finish.Varnish.Text = test.thread, test.varnish
			got := o.Winding(spec, w)
			for _, pair := range [][2]float64{{got.Turns, test.want.Turns}, {got.Thread, test.want.Thread}, {got.Varnish, test.want.Varnish}} {
				if math.Abs(pair[0]-pair[1]) > 1e-5*pair[1] { // the digits of the hand's sum
					t.Errorf("%+v, want %+v", got, test.want)
				}
			}
		})
	}
}

// Thread over a foot is the convex hull of blank and foot, here of a polygon of very
// many corners (Andrew's monotone chain, 1979) and its area by the shoelace.
func TestHollows(t *testing.T) {
	for _, foot := range [][3]float64{{10e-3, 2.6e-3, 0.5e-3}, {2e-3, 1.8e-3, 0.4e-3}, {14e-3, 3.2e-3, 0.7e-3}} {
		outside, width, thickness := foot[0], foot[1], foot[2]
		top := outside/2 + thickness
		points := [][2]float64{{-width / 2, top}, {width / 2, top}}
		const corners = 20000
		for i := range corners {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
			points = append(points, [2]float64{outside / 2 * cos, outside / 2 * sin})
		}
		area, round := hull(points)
		hollow, longer := hollows(outside, width, thickness)
		near(t, "area", hollow, area-math.Pi/4*outside*outside-width*thickness, 1e-5)
		near(t, "longer", longer, round-math.Pi*outside, 1e-5)
	}
}

// hull gives the area and the circumference of the convex hull of points.
func hull(points [][2]float64) (area, round float64) {
	slices.SortFunc(points, func(a, b [2]float64) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	half := func() (chain [][2]float64) {
		for _, p := range points {
			for n := len(chain); n > 1; n = len(chain) {
				a, b := chain[n-2], chain[n-1]
				if (b[0]-a[0])*(p[1]-a[1])-(b[1]-a[1])*(p[0]-a[0]) > 0 {
					break
				}
				chain = chain[:n-1]
			}
			chain = append(chain, p)
		}
		return chain[:len(chain)-1]
	}
	corners := half()
	slices.Reverse(points)
	corners = append(corners, half()...)
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		area += (a[0]*b[1] - b[0]*a[1]) / 2
		round += math.Hypot(b[0]-a[0], b[1]-a[1])
	}
	return area, round
}

// Whippings of a rod with thread and varnish weigh 3 to 6 g for ten rings on twelve
// feet (common practice, no source): between a third and the whole of a gram a ring,
// by its feet and size, and with the joint.
func TestWhippingsWeighWhatIsUsual(t *testing.T) {
	for _, name := range []string{"skerry-10", "wrack-9", "ferry-8", "overfall-11"} {
		s := demoSpec(t, name)
		f, err := New(s, models.DefaultSettings()).Figures()
		if err != nil {
			t.Fatal(err)
		}
		weight, _ := f.Get("whipping-weight")
		if each := weight.Value / float64(len(s.Rings)-1); each < 0.25e-3 || each > 0.6e-3 {
			t.Errorf("%s: whippings of %.2g g a ring", name, 1e3*each)
		}
	}
}

// Layers of thread and varnish by their windings weigh what the figure says.
func TestWindingsWeighAsMuch(t *testing.T) {
	for _, name := range []string{"skerry-10", "groyne-13"} {
		t.Run(name, func(t *testing.T) {
			s := demoSpec(t, name)
			figs, err := New(s, models.DefaultSettings()).Figures()
			if err != nil {
				t.Fatal(err)
			}
			o, err := New(s, models.DefaultSettings()).Outline()
			if err != nil {
				t.Fatal(err)
			}
			thread, varnish := s.Parts[s.Finish.Thread.Text], s.Parts[s.Finish.Varnish.Text]
			sum := 0.0
			for _, w := range o.Whippings {
				winding := o.Winding(s, w)
				layer := winding.Thread * float64(thread.Thickness.Value) * float64(thread.Thickness.Value) // as a solid layer of turns
				sum += layer*float64(thread.Density.Value) + winding.Varnish*float64(varnish.Density.Value)
			}
			want, _ := figs.Get("whipping-weight")
			// A ring on one foot is whipped on its tipward side, where the blank is a
			// hundredth thinner than under the ring, which the figure takes.
			if math.Abs(sum-want.Value) > 5e-3*want.Value {
				t.Errorf("%g kg of thread and varnish, the figure says %g", sum, want.Value)
			}
		})
	}
}

// Whippings at a joint lie at the mouth of an overlap, at both mouths of a spigot and
// over both ends of a ferrule, two diameters of the socket long unless the spec says
// otherwise (common practice, no source).
func TestWhippingsAtJoints(t *testing.T) {
	s := demoSpec(t, "skerry-10")
	at := s.JointSpans()[0]
	for _, row := range []struct {
		kind  models.JointKind
		given float64       // m; -1 for none
		want  []models.Span // beside the ends of the joint
	}{
		{models.Overlap, -1, []models.Span{{From: at.To - 2*9.8e-3, To: at.To}}},
		{models.Overlap, 12e-3, []models.Span{{From: at.To - 12e-3, To: at.To}}},
		{models.Overlap, 0, nil},
		{models.Ferrule, 10e-3, []models.Span{{From: at.From - 5e-3, To: at.From + 5e-3}, {From: at.To - 5e-3, To: at.To + 5e-3}}},
	} {
		r, err := assemble(s, models.DefaultSettings())
		if err != nil {
			t.Fatal(err)
		}
		r.spec.Joints[0].Kind = row.kind
		if row.given >= 0 {
			r.spec.Joints[0].Whipping = models.Millimetres(units.Length(row.given))
		}
		got := r.whippingsAt(0)
		if len(got) != len(row.want) {
			t.Fatalf("%s %g: %v, want %v", row.kind, row.given, got, row.want)
		}
		for i, w := range got {
			if math.Abs(w.From-row.want[i].From) > 1e-3 || math.Abs(w.To-row.want[i].To) > 1e-9 || w.Joint != 0 {
				t.Errorf("%s %g: %v, want %v", row.kind, row.given, w, row.want[i])
			}
		}
		s.Joints[0].Kind, s.Joints[0].Whipping = models.Overlap, models.Given[units.Length]{}
	}
}
