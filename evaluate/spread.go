package evaluate

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"

	"rodlore/evaluate/figures"
)

// Spread is how a figure scatters with the inputs of its spec, to first order
// and beyond. The mean of a figure's derivative by an input, which is a normal
// deviate, is its share in what the figure varies with that input alone
// (Stein 1981, Ann. Statist. 9:1135, lemma 1); what is left varies with powers
// and products of inputs and with none of them by itself, so the variances add.
type Spread struct {
	Effects []float64 // by input: what one deviation more of it does to the figure, in its unit
	Rest    float64   // standard deviation of what is left
}

// tolerance is the standard deviation of the figure: the law of propagation of
// uncertainty for inputs independent of each other (JCGM 100:2008, 5.1.2,
// equation 10), with what its first-order terms leave out.
func (s *Spread) tolerance() float64 {
	sum := s.Rest * s.Rest
	for _, e := range s.Effects {
		sum += e * e
	}
	return math.Sqrt(sum)
}

// mostBend is the largest share that second differences may have in a figure
// that derivatives are enough for. Beyond it the terms left out reach some
// percent of the tolerance.
const mostBend = 0.1

// crooked reports whether the figure follows its inputs in anything but a
// straight line.
func (s *Spread) crooked() bool { return s.Rest > mostBend*s.tolerance() }

// propagate carries the deviations of the inputs into a figure composed of
// parts. Figures that follow the inputs in anything but a straight line are
// sampled from the responses of their parts.
func propagate(parts []probed, of figures.Composition, draws draws) Spread {
	if of == nil {
		if plain := plainResponse(parts[0]); plain.bend() <= mostBend {
			return Spread{Effects: plain.first}
		}
		of = itself
	}
	return sample(newResponses(parts), of, draws)
}

// itself is the figures.Composition of a figure that is its own only part.
func itself(parts []float64) float64 { return parts[0] }

func newResponses(parts []probed) []response {
	responses := make([]response, len(parts))
	for j, p := range parts {
		responses[j] = newResponse(p)
	}
	return responses
}

// spreadSamples are so many that more would change a tolerance by less than is
// read off it.
const spreadSamples = 400

// sample draws the inputs and takes the mean of the derivatives, and what the
// line through them leaves.
func sample(parts []response, of figures.Composition, draws draws) Spread {
	s := Spread{Effects: make([]float64, draws.n)}
	at := make([]float64, 0, draws.samples())
	v, reflected := make([]float64, len(parts)), make([]float64, len(parts))
	slopes, back := make([]float64, len(parts)), make([]float64, len(parts))
	sums := make([]gradientSum, len(parts))
	for j := range parts {
		sums[j].weighted = make([]float64, draws.n)
	}
	for k := range draws.pairs() {
		x, squares := draws.at(k)
		for j := range parts {
			v[j], reflected[j] = parts[j].pair(x, squares)
		}
		one, other := of(v), of(reflected)
		at = append(at, one, other)
		gradient(of, one, v, slopes)
		gradient(of, other, reflected, back)
		for j := range parts {
			sums[j].add(parts[j].weight(slopes[j], v[j]), parts[j].weight(back[j], reflected[j]), x)
		}
	}
	for j := range parts {
		parts[j].addGradient(s.Effects, &sums[j], 1/float64(len(at)))
	}
	s.Rest = s.left(at, draws)
	return s
}

// gradientSum is the sum over the samples of the derivatives by the inputs that
// a figure has from one part. Those of the part itself are first + x·second, so
// the sums of their weight, alone and with x, are all it takes.
type gradientSum struct {
	weight   float64
	weighted []float64
}

// add adds the weights at a sample and at its reflection.
func (s *gradientSum) add(there, back float64, x []float64) {
	s.weight += there + back
	if there != back {
		floats.AddScaled(s.weighted, there-back, x)
	}
}

// left is the standard deviation of what the effects leave of the samples, each
// of which is followed by its reflection.
func (s *Spread) left(at []float64, draws draws) float64 {
	for k := range len(at) / 2 {
		x, _ := draws.at(k)
		straight := floats.Dot(s.Effects, x)
		at[2*k] -= straight
		at[2*k+1] += straight
	}
	return stat.StdDev(at, nil)
}

// gradient fills slopes with the derivatives of a figures.Composition by its parts, which
// make it value.
func gradient(of figures.Composition, value float64, v, slopes []float64) {
	const step = 1e-8 // as much of the slopes is lost, to rounding or to bends
	h := step * floats.Norm(v, math.Inf(1))
	for j, was := range v {
		v[j] = was + h
		slopes[j] = 0
		if h > 0 {
			slopes[j] = (of(v) - value) / h
		}
		v[j] = was
	}
}

// draws are samples of n inputs, standard normal deviates that are the same in
// every run. Each stands for its reflection as well.
type draws struct {
	n               int
	normal, squares []float64 // squares are halved
}

// newDraws draws half of that many samples.
func newDraws(n, samples int) draws {
	d := draws{n, make([]float64, samples/2*n), make([]float64, samples/2*n)}
	source := rand.New(rand.NewPCG(1, 2))
	for i := range d.normal {
		x := source.NormFloat64()
		d.normal[i], d.squares[i] = x, x*x/2
	}
	return d
}

// pairs are the samples drawn, samples those and their reflections.
func (d draws) pairs() int   { return len(d.normal) / d.n }
func (d draws) samples() int { return 2 * d.pairs() }

// at is sample k of the inputs, and half its squares.
func (d draws) at(k int) (x, squares []float64) {
	return d.normal[k*d.n : (k+1)*d.n], d.squares[k*d.n : (k+1)*d.n]
}
