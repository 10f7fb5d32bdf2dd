package evaluate

import (
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Change is what becomes of a figure from a rod built to one spec to one built
// to another. What both have in common came out the same in both rods.
type Change struct {
	Mean      float64 // of such pairs of rods, in the figure's unit
	Tolerance float64 // how far they scatter about it: one standard deviation
	// Against is the share of pairs in which the figure does not go the way that
	// it goes from spec to spec, or by less than it is numerically uncertain. What
	// is left of all pairs is the common language effect size (McGraw and Wong
	// 1992, Psychological Bulletin 111:361): how often a rod of the new spec has
	// more of what has become more.
	Against float64
	// Low and High are what so few pairs change by less and by more: Few of them.
	Low, High float64
}

// Few is the share of pairs of rods that is not counted on either side: as many as
// lie beyond two standard deviations on one side of a normal distribution (JCGM
// 100:2008, 6.3.3).
const Few = 0.0228

// Pairs are rods built to an old and to a new spec, two by two. Changes are worked
// out when the first is asked for, once. Several goroutines may ask.
type Pairs struct {
	old, new  *Figures
	newInputs func() []Input  // of the new spec, by the names that shared ones have in the old
	draws     [2]func() draws // of the inputs of either spec
	changes   func() map[string]Change
}

// NewPairs builds pairs of the rods that two sets of figures are of. Both must
// have been worked out with tolerances for a change to be known.
func NewPairs(old, now *Figures) *Pairs {
	p := &Pairs{old: old, new: now}
	p.changes = sync.OnceValue(p.allChanges)
	p.newInputs = sync.OnceValue(func() []Input {
		return ofOldTapers(now.Tolerances().Inputs, old.Tolerances().Tapers, now.Tolerances().Tapers)
	})
	p.draws[0] = sync.OnceValue(func() draws { return newDraws(old.Tolerances().Inputs, spreadSamples) })
	p.draws[1] = sync.OnceValue(func() draws { return newDraws(p.newInputs(), spreadSamples) })
	return p
}

// Change is the change of a figure that both rods have; all of it is NaN where either
// was worked out without tolerances.
func (p *Pairs) Change(key string) Change {
	if p == nil {
		return notKnown
	}
	if c, ok := p.changes()[key]; ok {
		return c
	}
	return notKnown
}

var notKnown = Change{Mean: math.NaN(), Tolerance: math.NaN(), Against: math.NaN(), Low: math.NaN(), High: math.NaN()}

// Recall has the changes taken from where they were kept: recall gives them, or else
// those that work works out. It is to be called before a change is asked for.
func (p *Pairs) Recall(recall func(work func() map[string]Change) map[string]Change) {
	p.changes = sync.OnceValue(func() map[string]Change { return recall(p.allChanges) })
}

func (p *Pairs) allChanges() map[string]Change {
	changes := map[string]Change{}
	for _, fig := range p.new.List {
		if old, now, known := p.scattered(fig.Key); known {
			changes[fig.Key] = p.build(old, now)
		}
	}
	for key, c := range changes {
		if leader, ok := p.leader(key); ok {
			if led, ok := changes[leader]; ok {
				c.Against = led.Against
				changes[key] = c
			}
		}
	}
	return changes
}

// Widest is the input that a change scatters with by most: of those that the two
// rods do not share, or that act otherwise on either. The parts of what is not known of
// a blank count as one. ok is false where that is not known, as where nothing makes the
// change scatter.
func (p *Pairs) Widest(key string) (widest Input, ok bool) {
	old, now, known := p.scattered(key)
	if !known {
		return Input{}, false
	}
	effects := map[InputID]float64{}
	inputs := append(now.inputs[:len(now.inputs):len(now.inputs)], old.inputs...)
	for sign, side := range map[float64]scattered{1: now, -1: old} {
		for i, in := range side.inputs {
			if side.spread != nil {
				effects[in.ID] += sign * side.spread.Effects[i]
			}
		}
	}
	most, blank := 0.0, 0.0
	for _, in := range inputs {
		effect := math.Abs(effects[in.ID])
		if in.ID.Kind == KnownInput {
			blank = math.Hypot(blank, effect)
			effect = blank
			effects[in.ID] = 0 // that both rods have is counted once
		}
		if effect > most {
			widest, most = in, effect
		}
	}
	return widest, most > 0
}

// Apart is how far a figure of two rods that have nothing in common but their specs
// differs by chance, one of either: one standard deviation. What is the same for all
// rods, the eye, the feet and what is not known of a blank, has no part in it. It is 0
// where the figure was worked out without tolerances.
func (p *Pairs) Apart(key string) (deviation float64) {
	old, now, known := p.scattered(key)
	if !known {
		return 0
	}
	for _, side := range []scattered{old, now} {
		if side.spread == nil {
			continue
		}
		deviation = math.Hypot(deviation, side.spread.Rest)
		for i, in := range side.inputs {
			switch in.ID.Kind {
			case TurnInput, BondingInput, DampingInput, KnownInput:
			default:
				deviation = math.Hypot(deviation, side.spread.Effects[i])
			}
		}
	}
	return deviation
}

// build builds the pairs as far as it takes to know the change of a figure.
func (p *Pairs) build(old, now scattered) Change {
	change, uncertain := now.Value-old.Value, old.Error+now.Error
	if old.spread == nil || now.spread == nil { // nothing makes it scatter
		return Change{Mean: change, Against: against([]float64{change}, change, uncertain), Low: change, High: change}
	}
	if old.spread.single() && now.spread.single() {
		if c, ok := straight(old, now, change, uncertain); ok {
			return c
		}
	}
	return p.sample(old, now, change, uncertain)
}

// scattered is a figure of one of the rods and how it scatters; nil where nothing
// makes it.
type scattered struct {
	Figure
	spread *Spread
	inputs []Input
}

// scattered gives a figure with its spread; known is false where that was not worked
// out.
func (f *Figures) scattered(key string) (s scattered, known bool) {
	fig, ok := f.Get(key)
	if !ok || f.tolerances() == nil || math.IsNaN(fig.Tolerance) {
		return scattered{}, false
	}
	spread, inputs := f.spread(key)
	return scattered{fig, spread, inputs}, true
}

// scattered gives a figure of both rods; known is false where either was worked out
// without tolerances.
func (p *Pairs) scattered(key string) (old, now scattered, known bool) {
	old, known = p.old.scattered(key)
	now, too := p.new.scattered(key)
	if known && too {
		now.inputs = p.newInputs()
	}
	return old, now, known && too
}

// straight is the change of a figure that is its own only part; ok is false where
// the change follows the inputs in anything but a straight line.
func straight(old, now scattered, change, uncertain float64) (c Change, ok bool) {
	a, d := responseOf(old.spread.Parts[0], false), responseOf(now.spread.Parts[0], false)
	at := map[InputID]int{}
	for i, in := range now.inputs {
		at[in.ID] = i
	}
	for i, in := range old.inputs {
		if j, shared := at[in.ID]; shared {
			d.first[j] -= a.first[i]
			d.second[j] -= a.second[i]
		} else {
			d.first, d.second = append(d.first, -a.first[i]), append(d.second, -a.second[i])
		}
	}
	var bent bend
	if bent.add(d); bent.share() > mostBend {
		return Change{}, false
	}
	mean := change + floats.Sum(d.second)/2
	c = Change{Mean: mean, Tolerance: math.Sqrt(bent.first + bent.second)}
	c.Against = normallyAgainst(change, uncertain, c.Tolerance)
	c.Low, c.High = mean-2*c.Tolerance, mean+2*c.Tolerance
	return c, true
}

// normallyAgainst is the share of pairs whose change goes the other way where it
// is normally distributed about what it is from spec to spec.
func normallyAgainst(change, uncertain, tolerance float64) float64 {
	if tolerance == 0 {
		return against([]float64{change}, change, uncertain)
	}
	return distuv.UnitNormal.CDF((uncertain - math.Abs(change)) / tolerance)
}

// against is the share of changes that are within what is uncertain or go the
// other way than the one from spec to spec.
func against(list []float64, change, uncertain float64) float64 {
	n := 0
	for _, v := range list {
		if !(v*math.Copysign(1, change) > uncertain) {
			n++
		}
	}
	return float64(n) / float64(len(list))
}

// sample builds the pairs.
func (p *Pairs) sample(old, now scattered, change, uncertain float64) Change {
	logs := bendsLessInLogarithms(old.spread.Parts, now.spread.Parts)
	list := now.sample(logs, p.draws[1]())
	floats.Sub(list, old.sample(logs, p.draws[0]()))
	c := Change{Against: against(list, change, uncertain)}
	c.Mean, c.Tolerance = stat.MeanStdDev(list, nil)
	slices.Sort(list)
	c.Low, c.High = stat.Quantile(Few, stat.Empirical, list, nil), stat.Quantile(1-Few, stat.Empirical, list, nil)
	return c
}

// sample gives the figure of rods at the draws and their reflections. The parts
// may be of a rougher rod, so what the rods differ by counts, and not where they
// lie.
func (s scattered) sample(logs bool, d draws) []float64 {
	of := s.spread.composition(s.Key)
	a := newAssembly(responses(s.spread.Parts, logs), d)
	for j, part := range s.spread.Parts {
		a.at[j] = part.Value
	}
	off := s.Value - of(a.at, nil)
	list := make([]float64, 0, 2*d.pairs)
	for k := range d.pairs {
		there, back := a.figure(of, k)
		list = append(list, off+there, off+back)
	}
	return list
}

// leaders are the figures that others follow: one of them alone makes the other,
// together with what relation gives, which a change of spec mostly leaves as it
// is.
var leaders = map[string]struct {
	leader   string
	relation func(follower, leader float64) float64
}{
	"settle":     {"recovery", func(time, frequency float64) float64 { return time * frequency }},
	"cast-lead":  {"cast-mass", func(lead, mass float64) float64 { return lead / mass }},
	"cast-line":  {"cast-mass", func(line, mass float64) float64 { return line / mass }},
	"line-share": {"cast-mass", func(share, mass float64) float64 { return (1/share - 1) / mass }},
	"cast-share": {"cast-mass", func(share, mass float64) float64 { return (1/share - 1) / mass }},
}

// leader is the figure that a change of another follows exactly; ok is false where
// something else changed too.
func (p *Pairs) leader(key string) (leader string, ok bool) {
	const rounding = 1e-9
	l, ok := leaders[key]
	if !ok {
		return "", false
	}
	var relation [2]float64
	for i, f := range []*Figures{p.old, p.new} {
		follower, ok := f.Get(key)
		leads, too := f.Get(l.leader)
		if !ok || !too {
			return "", false
		}
		relation[i] = l.relation(follower.Value, leads.Value)
	}
	return l.leader, math.Abs(relation[1]-relation[0]) <= rounding*math.Abs(relation[0])
}
