package pages_test

import (
	"math"
	"testing"

	"rodlore/catalogue/pages/drawing"
)

// Rings are drawn where the spec has them, to a tenth of a millimetre of the rod, as
// circles of their size by one scale, those that are gone crossed out; and the rod of
// then, slid all the way, lies on that of now: their blanks begin at the same butt.
func TestThenAndNow(t *testing.T) {
	for _, name := range names(t) {
		rods := firstAndLast(t, name)
		if len(rods) < 2 {
			continue
		}
		s, err := pens()["screen"].ThenAndNow("s", rods[0], rods[1])
		if err != nil {
			t.Fatal(err)
		}
		keep(t, "onto-"+name, s.Picture)
		var circles [2][]*drawing.Circle // of then and now
		crosses := 0
		for _, m := range s.Picture.Marks {
			switch m := m.(type) {
			case *drawing.Circle:
				circles[1] = append(circles[1], m)
			case *drawing.Group:
				if m.ID != s.Was {
					continue
				}
				for _, inner := range m.Marks {
					switch inner := inner.(type) {
					case *drawing.Circle:
						circles[0] = append(circles[0], inner)
					case *drawing.Group:
						crosses++
					}
				}
			}
		}
		if lost := len(rods[0].Rings) - len(rods[1].Rings); crosses < lost || lost <= 0 && crosses > len(rods[0].Rings) {
			t.Errorf("%s: %d rings fewer and %d crossed out", name, lost, crosses)
		}
		tip := circles[1][0].Centre.X
		perM := (tip - circles[1][len(circles[1])-1].Centre.X) / float64(rods[1].Rings[len(rods[1].Rings)-1].At.Value)
		perSize := circles[1][0].Radius / float64(rods[1].Parts[rods[1].Rings[0].Part.Text].Size.Value)
		for i, r := range rods {
			if len(circles[i]) != len(r.Rings) {
				t.Fatalf("%s: %d circles of %d rings", r.Label, len(circles[i]), len(r.Rings))
			}
			longer := r.TotalLength() - rods[1].TotalLength() // butts stand above each other
			for k, ring := range r.Rings {
				at := (tip-circles[i][k].Centre.X)/perM + longer
				if want := float64(ring.At.Value); math.Abs(at-want) > 1e-4 {
					t.Errorf("%s %s: the ring at %g m is drawn at %g", name, r.Label, want, at)
				}
				if want := perSize * float64(r.Parts[ring.Part.Text].Size.Value); math.Abs(circles[i][k].Radius-want) > 1e-9 {
					t.Errorf("%s %s: ring %d is drawn with %g mm and not %g", name, r.Label, k, circles[i][k].Radius, want)
				}
			}
		}
	}
}

// The rods swing in their own time: after whole swings of the first mode a tip is back
// on its side, and of two the quicker one comes first.
func TestSwinging(t *testing.T) {
	rods := firstAndLast(t, "skerry-10")
	s, err := pens()["screen"].Swinging("w", rods)
	if err != nil {
		t.Fatal(err)
	}
	keep(t, "swinging", s.Picture)
	if slow, quick := s.Rods[0].Swing.Modes[0].Frequency, s.Rods[1].Swing.Modes[0].Frequency; quick <= slow {
		t.Errorf("the rod of now swings at %g Hz and that of then at %g", quick, slow)
	}
	for _, r := range s.Rods {
		rest, start := r.Places[0], r.At(0)[0]
		if math.Abs(start.X-rest.X-r.Reach) > 1e-9 {
			t.Errorf("the tip is let go at %g mm, not at %g", start.X-rest.X, r.Reach)
		}
		half := r.At(0.5 / r.Swing.Modes[0].Frequency)[0]
		if half.X > rest.X-0.5*r.Reach {
			t.Errorf("after half a swing the tip stands at %g mm", half.X-rest.X)
		}
		foot := len(r.Places) - 1
		if moved := r.At(0.1)[foot]; moved != r.Places[foot] {
			t.Errorf("the foot moves to %v", moved)
		}
	}
}
