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
	pairs           int         // of a draw and its reflection
	normal, squares [][]float64 // by input; squares are halved
}

// newDraws draws half of that many samples. Of every input each of as many equally
// likely spans of deviates comes once, in an order of its own: Latin hypercube
// sampling (McKay, Beckman and Conover 1979, Technometrics 21:239), which leaves far
// less to chance where few inputs do most.
func newDraws(inputs []Input, samples int) draws {
	d := draws{samples / 2, make([][]float64, len(inputs)), make([][]float64, len(inputs))}
	deviates := spans(d.pairs)
	for i, in := range inputs {
		source := rand.New(rand.NewPCG(in.ID.seed(), 1))
		d.normal[i], d.squares[i] = slices.Clone(deviates), make([]float64, d.pairs)
		source.Shuffle(d.pairs, func(a, b int) { d.normal[i][a], d.normal[i][b] = d.normal[i][b], d.normal[i][a] })
		for k, x := range d.normal[i] {
			if source.Uint64()&1 == 0 { // its reflection comes too
				x = -x
			}
			d.normal[i][k], d.squares[i][k] = x, x*x/2
		}
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
