package beam_test

import (
	"testing"

	"rodlore/evaluate/beam"
)

// benchLine is a rod with eight rings and a tip ring, nine in all, and its
// line: below the blank, or above it and half as high, so that it lies on the
// blank between all rings but the last.
func benchLine(b *testing.B, elements int, above bool) (*beam.Rod, beam.Line) {
	r := readJSON[map[string]referenceRod](b, "rods.json")["R1J"]
	l := lineCase{Rings: "8 + tip", Tension: 8, Pull: 90, Weight: true}.line(r)
	l.Radius = r.radius
	if above {
		l.Reel.Offset = -l.Reel.Offset
		for i := range l.Rings {
			l.Rings[i].Offset = -l.Rings[i].Offset / 2
		}
	}
	return lineRod(b, r.pieces(), l, elements), l
}

func (r referenceRod) radius(s float64) float64 { return linear(r.Outside, s) / 2 }

func BenchmarkBendLine(b *testing.B) {
	for _, side := range []struct {
		name  string
		above bool
	}{{"below", false}, {"above", true}} {
		rod, l := benchLine(b, 60, side.above)
		b.Run(side.name+"/cold", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				bentLine(b)(beam.NewSolver(rod).BendLine(l))
			}
		})
		b.Run(side.name+"/warm", func(b *testing.B) {
			b.ReportAllocs()
			s := beam.NewSolver(rod)
			for b.Loop() {
				l.Tension = 13 - l.Tension // 5 and 8 N in turn
				bentLine(b)(s.BendLine(l))
			}
		})
		b.Run(side.name+"/to a turn", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				bentLine(b)(beam.NewSolver(rod).BendLineToTurn(l, 85*degree))
			}
		})
	}
}

func bentLine(tb testing.TB) func(*beam.LineShape, error) *beam.LineShape {
	return func(ls *beam.LineShape, err error) *beam.LineShape {
		tb.Helper()
		if err != nil {
			tb.Fatal(err)
		}
		return ls
	}
}
