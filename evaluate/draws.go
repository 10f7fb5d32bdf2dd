package evaluate

import (
	"hash/fnv"
	"io"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat/distuv"
)

// draws are standard normal deviates of inputs, the same in every run. Each
// stands for its reflection as well.
//
// What is drawn for an input follows from what it is the error of, so that in
// two specs that have an input in common it is drawn alike, whatever else either
// has.
type draws struct {
	pairs  int         // of a draw and its reflection
	normal [][]float64 // by input
}

// newDraws draws half of that many samples. Of every input each of as many equally
// likely spans of deviates comes once, in an order of its own: Latin hypercube
// sampling (McKay, Beckman and Conover 1979, Technometrics 21:239), which leaves far
// less to chance where few inputs do most.
func newDraws(inputs []Input, samples int) draws {
	d := draws{samples / 2, make([][]float64, len(inputs))}
	deviates := spans(d.pairs)
	for i, in := range inputs {
		source, drawn := rand.NewPCG(in.ID.seed(), 1), slices.Clone(deviates)
		rand.New(source).Shuffle(d.pairs, func(a, b int) { drawn[a], drawn[b] = drawn[b], drawn[a] })
		for k, x := range drawn {
			if source.Uint64()&1 == 0 { // its reflection comes too
				drawn[k] = -x
			}
		}
		d.normal[i] = drawn
	}
	return d
}

// spans are the middles of n equally likely spans of a standard normal deviate's
// size, spread so that its variance is 1.
func spans(n int) []float64 {
	list := make([]float64, n)
	for k := range list {
		list[k] = distuv.UnitNormal.Quantile(0.5 + (float64(k)+0.5)/float64(2*n))
	}
	floats.Scale(math.Sqrt(float64(n))/floats.Norm(list, 2), list)
	return list
}

// seed tells inputs apart.
func (id InputID) seed() uint64 {
	h := fnv.New64a()
	for _, s := range []string{string(id.Kind), id.Of, id.Item} {
		_, _ = io.WriteString(h, s) // a hash takes whatever it is given
		_, _ = h.Write([]byte{0})
	}
	return h.Sum64()
}
