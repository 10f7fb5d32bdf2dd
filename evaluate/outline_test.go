package evaluate

import (
	"math"
	"testing"

	"rodlore/models"
	"rodlore/models/units"
)

func TestLayOut(t *testing.T) {
	const rounding = 1e-9 // m
	s := demoSpec(t, "skerry-10")
	o, err := New(s, models.DefaultSettings()).Outline()
	if err != nil {
		t.Fatal(err)
	}
	t.Run("goes from tip to butt", func(t *testing.T) {
		at := 0.0
		for _, p := range o.Blank {
			if math.Abs(p.From-at) > rounding || p.To <= p.From {
				t.Errorf("a stretch from %g to %g behind one to %g", p.From, p.To, at)
			}
			at = p.To
		}
		if math.Abs(at-s.TotalLength()) > rounding {
			t.Errorf("it ends at %g, the rod at %g", at, s.TotalLength())
		}
	})
	t.Run("has the diameters of the spec", func(t *testing.T) {
		spans := s.SectionSpans()
		for i, section := range s.Sections {
			for _, station := range section.Tube {
				at := spans[i].From + float64(station.At.Value)
				if s.SectionAt(at-rounding) != i || s.SectionAt(at+rounding) != i {
					continue // inside the other tube
				}
				if got, want := o.Outside(at), float64(station.Outside.Value); math.Abs(got-want) > rounding {
					t.Errorf("%s at %s: %g, want %g", section.Name, station.At.Text, got, want)
				}
			}
		}
	})
	t.Run("has a whipping over every foot", func(t *testing.T) {
		want := len(s.Joints) // overlaps have one each
		for i, ring := range s.Rings {
			part := s.Parts[ring.Part.Text]
			want += part.Feet
			for _, w := range o.Whippings {
				usual := float64(part.Foot.Length.Value) + 4e-3
				if w.Ring == i && math.Abs(w.To-w.From-float64(ring.Whipping.Or(units.Length(usual)))) > rounding {
					t.Errorf("ring %d: whipping from %g to %g", i, w.From, w.To)
				}
			}
		}
		if len(o.Whippings) != want {
			t.Errorf("%d whippings for %d feet", len(o.Whippings), want)
		}
	})
}
