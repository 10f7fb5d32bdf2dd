package evaluate

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"

	"rodlore/models"
)

// Wanted is one limit of a spec's wants, held against the figure.
type Wanted struct {
	models.Want
	Value float64 // of the figure, in its unit
	Unit  string
	Known bool // the rod has the figure
	Met   bool // by the figure itself
	// Weakest is what fails first, of a load limit.
	Weakest Weakest
	// Share is how many of the rods built to the spec meet it, 0 to 1; NaN
	// where that is not known.
	Share float64
}

// Wants holds a spec's wants against its figures, in the order of the spec.
func Wants(s *models.Spec, f *Figures) []Wanted {
	var out []Wanted
	for i, w := range s.Wants {
		fig, ok := f.Get(w.Figure)
		wanted := Wanted{
			Want: w, Value: fig.Value, Unit: fig.Unit, Known: ok,
			Met: ok && w.Min <= fig.Value && fig.Value <= w.Max, Weakest: fig.Weakest, Share: math.NaN(),
		}
		if i < len(f.Wants) {
			wanted.Share = f.Wants[i]
		}
		out = append(out, wanted)
	}
	return out
}

// wantSamples are so many that a share read off them is right to about one in a
// hundred.
const wantSamples = 2000

// shares gives, for each of the spec's wants, the share of rods that meet it.
func shares(s *models.Spec, f *Figures) []float64 {
	list := make([]float64, len(s.Wants))
	draws := sync.OnceValue(func() draws { return newDraws(f.Tolerances().Inputs, wantSamples) })
	for i, w := range s.Wants {
		one, known := f.scattered(w.Figure)
		switch {
		case !known:
			list[i] = math.NaN()
		case one.Sampled:
			list[i] = sampledShare(w, one, draws())
		default:
			list[i] = normalShare(w, one.Figure)
		}
	}
	return list
}

// normalShare is the share of rods within a want of a figure that follows its
// inputs in a straight line. The numerical error is as likely to be anything
// within its bound, which adds its square by three to the variance
// (JCGM 100:2008, 4.3.7).
func normalShare(w models.Want, fig Figure) float64 {
	deviation := math.Sqrt(fig.Tolerance*fig.Tolerance + fig.Error*fig.Error/3)
	if deviation == 0 {
		return within(w, fig.Value, 0)
	}
	n := distuv.Normal{Mu: fig.Value, Sigma: deviation}
	return n.CDF(w.Max) - n.CDF(w.Min)
}

// sampledShare is the share of samples within a want.
func sampledShare(w models.Want, s scattered, d draws) float64 {
	samples, sum := s.sample(bendsLessInLogarithms(s.spread.Parts), d), 0.0
	for _, v := range samples {
		sum += within(w, v, s.Error)
	}
	return sum / float64(len(samples))
}

// within is how much of a value known to within an error lies within a want,
// 0 to 1.
func within(w models.Want, value, err float64) float64 {
	if low, high := value-err, value+err; low < high {
		return max(min(w.Max, high)-max(w.Min, low), 0) / (high - low)
	}
	if w.Min <= value && value <= w.Max {
		return 1
	}
	return 0
}
