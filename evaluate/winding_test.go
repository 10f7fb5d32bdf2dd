package evaluate

import (
	"math"
	"testing"

	"rodlore/models"
)

// A whipping of 15 mm with a thread of 0.15 mm on a tube of 7 mm, by hand: 100
// turns of π·7.15 mm, with a pitch of 0.15 mm 2.2462 m together; a layer of
// 0.3 mm on 7.3 mm, π/4·(7.9² − 7.3²)·15 = 107.44 mm³.
func TestWinding(t *testing.T) {
	spec := &models.Spec{Model: &models.Model{}, Parts: map[string]*models.Part{
		"thread":  {Thickness: models.Millimetres(0.15e-3)},
		"varnish": {Thickness: models.Millimetres(0.3e-3)},
	}}
	o := &Outline{Blank: []Stretch{{models.Span{From: 0, To: 1}, 6.5e-3, 7.5e-3}}}
	w := Whipping{Span: models.Span{From: 0.4925, To: 0.5075}}
	tests := []struct {
		name            string
		thread, varnish string
		want            Winding
	}{
		{"both", "thread", "varnish", Winding{100, 2.24627, 107.442e-9}},
		{"no varnish", "thread", "", Winding{100, 2.24627, 0}},
		{"no thread", "", "varnish", Winding{0, 0, 103.201e-9}}, // π/4·(7.6² − 7²)·15
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
