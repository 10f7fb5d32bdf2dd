package evaluate

import "math"

// ChangeTolerance is the standard deviation of what a figure changes by between
// two specs: of an input that both have, one error acts on both sides. It is
// NaN where either side's tolerance is not known.
//
// What the effects leave varies with squares and products of the inputs. Where
// the effects of the two sides have the correlation ρ, second powers have ρ²
// (Mehler 1866, J. reine angew. Math. 66:161, from memory).
func ChangeTolerance(old, new *Figures, key string) float64 {
	a, aKnown := old.spread(key)
	b, bKnown := new.spread(key)
	if !aKnown || !bKnown {
		return math.NaN()
	}
	var inOld, inNew, inBoth float64
	for _, e := range a.Effects {
		inOld += e * e
	}
	effects := old.effectsByID(a)
	for i, e := range b.Effects {
		inNew += e * e
		inBoth += e * effects[new.Tolerances.Inputs[i].ID]
	}
	straight := max(inOld+inNew-2*inBoth, 0)
	correlation := 0.0
	if inOld > 0 && inNew > 0 {
		correlation = inBoth / math.Sqrt(inOld*inNew)
	}
	rest := max(a.Rest*a.Rest+b.Rest*b.Rest-2*correlation*correlation*a.Rest*b.Rest, 0)
	return math.Sqrt(straight + rest)
}

// spread gives how a figure scatters, not at all where it is exact; known is
// false where that was not worked out.
func (f *Figures) spread(key string) (s Spread, known bool) {
	fig, ok := f.Get(key)
	if !ok || f.Tolerances == nil || math.IsNaN(fig.Tolerance) {
		return Spread{}, false
	}
	if s := f.Tolerances.Spreads[key]; s != nil {
		return *s, true
	}
	return Spread{}, true
}

func (f *Figures) effectsByID(s Spread) map[InputID]float64 {
	effects := make(map[InputID]float64, len(s.Effects))
	for i, e := range s.Effects {
		effects[f.Tolerances.Inputs[i].ID] = e
	}
	return effects
}
