package laminate_test

import (
	"math"
	"testing"

	"rodlore/evaluate/laminate"
)

var (
	sinkSection laminate.Section
	sinkPly     laminate.Ply
)

// One cross-section of five plies, as an evaluation asks for some 300 times.
func BenchmarkRoll(b *testing.B) {
	plies := []laminate.Ply{
		lay(b, my750, math.Pi/2, 1), lay(b, as4, 0, 3), lay(b, as4, 0.35, 0.5), lay(b, as4, -0.35, 0.5), lay(b, t300, 0, 1.25),
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		plies[1].Wraps = 2 + float64(i&7)/8
		s, err := laminate.Roll(8e-3, plies)
		if err != nil {
			b.Fatal(err)
		}
		sinkSection = s
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(plies)), "ns/ply")
}

func BenchmarkPly(b *testing.B) {
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		p, err := as4.Ply(float64(i&63) / 64)
		if err != nil {
			b.Fatal(err)
		}
		sinkPly = p
	}
}
