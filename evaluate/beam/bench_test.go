package beam_test

import (
	"math"
	"testing"

	"rodlore/evaluate/beam"
)

// benchRod is a tapered rod with a joint and rings of rods.json on a mesh as
// the figures use it.
func benchRod(b *testing.B, elements int) *beam.Rod {
	return readJSON[map[string]referenceRod](b, "rods.json")["R1J"].mesh(b, true, elements)
}

var square = beam.Load{Force: 4, Direction: math.Pi / 2, Weight: true}

func BenchmarkNewRod(b *testing.B) {
	r := readJSON[map[string]referenceRod](b, "rods.json")["R1J"]
	b.ReportAllocs()
	for b.Loop() {
		r.mesh(b, true, 60)
	}
}

func BenchmarkRefined(b *testing.B) {
	rod := benchRod(b, 60)
	b.ReportAllocs()
	for b.Loop() {
		rod.Refined()
	}
}

func BenchmarkBend(b *testing.B) {
	coarse := benchRod(b, 60)
	fine := coarse.Refined()
	b.Run("cold", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			bent(b)(beam.NewSolver(coarse).Bend(square))
		}
	})
	b.Run("warm", func(b *testing.B) {
		b.ReportAllocs()
		s, l := beam.NewSolver(coarse), square
		for b.Loop() {
			l.Force = 7 - l.Force // 3 and 4 N in turn
			bent(b)(s.Bend(l))
		}
	})
	b.Run("refined", func(b *testing.B) {
		b.ReportAllocs()
		start := bent(b)(beam.NewSolver(coarse).Bend(square))
		s := beam.NewSolver(fine)
		for b.Loop() {
			s.StartFrom(start)
			bent(b)(s.Bend(square))
		}
	})
}

func BenchmarkBendToTurn(b *testing.B) {
	coarse := benchRod(b, 60)
	fine := coarse.Refined()
	b.Run("cold", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			bent(b)(beam.NewSolver(coarse).BendToTurn(square, 85*degree))
		}
	})
	b.Run("refined", func(b *testing.B) {
		b.ReportAllocs()
		start := bent(b)(beam.NewSolver(coarse).BendToTurn(square, 85*degree))
		s := beam.NewSolver(fine)
		for b.Loop() {
			s.StartFrom(start)
			bent(b)(s.BendToTurn(square, 85*degree))
		}
	})
}

func BenchmarkBendToDrop(b *testing.B) {
	coarse := benchRod(b, 60)
	b.ReportAllocs()
	for b.Loop() {
		bent(b)(beam.NewSolver(coarse).BendToDrop(square, coarse.Length()/3))
	}
}

func BenchmarkModes(b *testing.B) {
	coarse := benchRod(b, 60)
	fine := coarse.Refined()
	for name, rod := range map[string]*beam.Rod{"coarse": coarse, "refined": fine} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := rod.Modes(2); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkRevision is what the figures of one revision cost: five bends on the
// coarse mesh and again on the refined one, and two modes on both.
func BenchmarkRevision(b *testing.B) {
	r := readJSON[map[string]referenceRod](b, "rods.json")["R1J"]
	b.ReportAllocs()
	for b.Loop() {
		coarse := r.mesh(b, true, 60)
		first := revision(b, coarse, nil)
		revision(b, coarse.Refined(), first)
	}
}

func revision(b *testing.B, rod *beam.Rod, from []*beam.Shape) []*beam.Shape {
	s, l := beam.NewSolver(rod), square
	bends := []func() (*beam.Shape, error){
		func() (*beam.Shape, error) { return s.BendToDrop(l, rod.Length()/3) },
		func() (*beam.Shape, error) { l.Force = 1; return s.Bend(l) },
		func() (*beam.Shape, error) { return s.BendToTurn(l, 85*degree) },
		func() (*beam.Shape, error) { l.Force = 3; return s.Bend(l) },
		func() (*beam.Shape, error) { l.Force = 8; return s.Bend(l) },
	}
	shapes := make([]*beam.Shape, len(bends))
	for i, bend := range bends {
		if from != nil {
			s.StartFrom(from[i])
		}
		shapes[i] = bent(b)(bend())
	}
	if _, err := rod.Modes(2); err != nil {
		b.Fatal(err)
	}
	return shapes
}

// bent gives the shape of a bend that must succeed.
func bent(tb testing.TB) func(*beam.Shape, error) *beam.Shape {
	return func(sh *beam.Shape, err error) *beam.Shape {
		tb.Helper()
		if err != nil {
			tb.Fatal(err)
		}
		return sh
	}
}
