package evaluate

import (
	"hash/fnv"
	"io"
	"math/rand/v2"
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

// newDraws draws half of that many samples.
func newDraws(inputs []Input, samples int) draws {
	d := draws{samples / 2, make([][]float64, len(inputs)), make([][]float64, len(inputs))}
	for i, in := range inputs {
		source := rand.New(rand.NewPCG(in.ID.seed(), 1))
		d.normal[i], d.squares[i] = make([]float64, d.pairs), make([]float64, d.pairs)
		for k := range d.pairs {
			x := source.NormFloat64()
			d.normal[i][k], d.squares[i][k] = x, x*x/2
		}
	}
	return d
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
