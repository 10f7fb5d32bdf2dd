package evaluate

import (
	"math"
	"sort"

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

	// Parts are what the figure is made of.
	Parts []Part
	// Curve is the figure by its only part, where it does not follow that in a
	// straight line, in the order of the part.
	Curve []Knot
}

// Knot is a value of a figure where its part has another one.
type Knot struct{ Part, Figure float64 }

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

// single reports whether the figure is its own only part.
func (s *Spread) single() bool { return len(s.Curve) < 2 && len(s.Parts) == 1 }

// composition is how a figure is made of its parts.
func (s *Spread) composition(key string) figures.Composition {
	switch {
	case s.single():
		return plain
	case len(s.Curve) > 1:
		return s.along
	}
	return figures.Of(key).Compose
}

// plain is a figure that is its own only part.
func plain(parts, slopes []float64) float64 {
	if slopes != nil {
		slopes[0] = 1
	}
	return parts[0]
}

// along is the figure on its curve, which goes on straight beyond its ends.
func (s *Spread) along(parts, slopes []float64) float64 {
	c := s.Curve
	i := sort.Search(len(c), func(i int) bool { return c[i].Part >= parts[0] })
	i = min(max(i, 1), len(c)-1)
	chord := lineThrough(c[i-1].Part, c[i-1].Figure, c[i].Part, c[i].Figure)
	if slopes != nil {
		slopes[0] = chord.slope
	}
	return chord.at(parts[0])
}

// spreadSamples are so many that more would change a tolerance by less than is
// read off it.
const spreadSamples = 1000

// propagate carries the deviations of the inputs into a figure. One that follows
// them in anything but a straight line is sampled from the responses of its
// parts.
func (s *Spread) propagate(key string, draws func() draws) {
	if s.single() {
		straight := responseOf(s.Parts[0], false)
		var b bend
		if b.add(straight); b.share() <= mostBend {
			s.Effects = straight.first
			return
		}
	}
	s.sample(s.composition(key), draws())
}

// sample draws the inputs and takes the mean of the derivatives, and what the
// line through them leaves.
func (s *Spread) sample(of figures.Composition, d draws) {
	parts := responses(s.Parts, bendsLessInLogarithms(s.Parts))
	a := newAssembly(parts, d)
	there, back := make([]float64, d.pairs), make([]float64, d.pairs)
	slopes := make([]float64, len(parts))
	for k := range d.pairs {
		there[k], back[k] = a.weigh(of, a.there, k, slopes), a.weigh(of, a.back, k, slopes)
	}
	s.Effects = make([]float64, len(d.normal))
	for j, r := range parts {
		r.addGradient(s.Effects, a.there[j], a.back[j], d)
	}
	s.Rest = s.left(there, back, d)
}

// left is the standard deviation of what the effects leave of the samples.
func (s *Spread) left(there, back []float64, d draws) float64 {
	for i, e := range s.Effects {
		if e != 0 {
			floats.AddScaled(there, -e, d.normal[i])
			floats.AddScaled(back, e, d.normal[i])
		}
	}
	return stat.StdDev(append(there, back...), nil)
}

// assembly holds the parts of a figure at every draw and its reflection, by part
// and draw.
type assembly struct {
	parts       []response
	there, back [][]float64
	at          []float64 // the parts at one of them
}

func newAssembly(parts []response, d draws) *assembly {
	a := &assembly{parts, make([][]float64, len(parts)), make([][]float64, len(parts)), make([]float64, len(parts))}
	for j, r := range parts {
		a.there[j], a.back[j] = r.sampled(d)
	}
	return a
}

// figure composes the figure at draw k and at its reflection.
func (a *assembly) figure(of figures.Composition, k int) (there, back float64) {
	return of(a.gather(a.there, k), nil), of(a.gather(a.back, k), nil)
}

func (a *assembly) gather(side [][]float64, k int) []float64 {
	for j := range a.parts {
		a.at[j] = side[j][k]
	}
	return a.at
}

// weigh composes the figure at draw k of a side and puts in place of its parts there
// what the derivatives by the inputs have of theirs.
func (a *assembly) weigh(of figures.Composition, side [][]float64, k int, slopes []float64) float64 {
	v := a.gather(side, k)
	figure := of(v, slopes)
	for j, r := range a.parts {
		side[j][k] = r.weight(slopes[j], v[j])
	}
	return figure
}
