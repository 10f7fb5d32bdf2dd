package evaluate

import (
	"math"
	"math/rand/v2"
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
func propagate(parts []probed, of composition, draws draws) Spread {
	if of == nil {
		if plain := plainResponse(parts[0]); plain.bend() <= mostBend {
			return Spread{Effects: plain.first}
		}
		of = itself
	}
	return sample(newResponses(parts), of, draws)
}

// itself is the composition of a figure that is its own only part.
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
func sample(parts []response, of composition, draws draws) Spread {
	s := Spread{Effects: make([]float64, draws.n)}
	n := draws.samples()
	at := make([]float64, n)
	v := make([]float64, len(parts))
	for k := range n {
		x := draws.at(k)
		for j, p := range parts {
			v[j] = p.at(x)
		}
		at[k] = of(v)
		for j, p := range parts {
			if slope := partial(of, v, j); slope != 0 {
				p.addGradient(s.Effects, slope/float64(n), v[j], x)
			}
		}
	}
	s.Rest = s.left(at, draws)
	return s
}

// left is the standard deviation of what the effects leave of the samples.
func (s *Spread) left(at []float64, draws draws) float64 {
	var mean, square float64
	for k, v := range at {
		x := draws.at(k)
		for i, e := range s.Effects {
			v -= e * x[i]
		}
		change := v - mean
		mean += change / float64(k+1)
		square += change * (v - mean)
	}
	return math.Sqrt(square / float64(len(at)-1))
}

// partial is the derivative of a composition by one of its parts.
func partial(of composition, v []float64, j int) float64 {
	const step = 1e-6
	was, h := v[j], 0.0
	for _, x := range v {
		h = max(h, step*math.Abs(x))
	}
	if h == 0 {
		return 0
	}
	v[j] = was + h
	up := of(v)
	v[j] = was - h
	down := of(v)
	v[j] = was
	return (up - down) / (2 * h)
}

// draws are samples of n inputs, standard normal deviates that are the same in
// every run.
type draws struct {
	n      int
	normal []float64
}

// newDraws draws samples of n inputs, half of them the others reflected.
func newDraws(n, samples int) draws {
	d := draws{n, make([]float64, samples*n)}
	source := rand.New(rand.NewPCG(1, 2))
	half := len(d.normal) / 2
	for i := range half {
		d.normal[i] = source.NormFloat64()
		d.normal[half+i] = -d.normal[i]
	}
	return d
}

func (d draws) samples() int { return len(d.normal) / d.n }

// at is sample k of the inputs.
func (d draws) at(k int) []float64 { return d.normal[k*d.n : (k+1)*d.n] }
