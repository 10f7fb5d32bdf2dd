package evaluate

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"rodlore/evaluate/figures"
)

// FiguresWithTolerances works out the figures of the rod and how far those of rods
// built to its spec scatter: Figure.Tolerance and Figures.Contributions.
func (on *Rod) FiguresWithTolerances(ctx context.Context) (*Figures, error) {
	w, err := on.workOut()
	if err != nil {
		return nil, err
	}
	s, set := on.spec, on.set
	t, err := newTrials(w, set)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	inputs := inputsOf(s, set)
	probed, err := t.probe(ctx, inputs)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	f := w.figures
	tolerances := &Tolerances{Inputs: exported(inputs), Tapers: tapersOf(s, set), Spreads: map[string]*Spread{}}
	f.Tolerances = func() *Tolerances { return tolerances }
	draws := sync.OnceValue(func() draws { return newDraws(tolerances.Inputs, spreadSamples) })
	for i := range f.List {
		if key := f.List[i].Key; probed[key] != nil {
			tolerances.Spreads[key] = &Spread{Parts: probed[key]}
		} else if !figures.Of(key).Exact {
			f.List[i].Tolerance = math.NaN()
		}
	}
	err = InParallel(Watched(ctx, nil), len(f.List), func(i int) {
		fig := &f.List[i]
		spread := tolerances.Spreads[fig.Key]
		if spread == nil {
			return
		}
		if fig.Key == "half-turn" {
			spread.Curve = w.halfTurns()
		}
		spread.propagate(fig.Key, draws)
		fig.Tolerance, fig.Sampled = spread.tolerance(), spread.crooked()
	})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	f.Wants = shares(s, f)
	return f, nil
}

// probe reads the parts of all figures with every input off either way. A
// figure that a build has not, such as one whose tip cannot be brought to the
// test curve's turn, is left out.
func (t *trials) probe(ctx context.Context, inputs []perturbation) (map[string][]Part, error) {
	all := map[string][]Part{}
	for key, values := range t.fine {
		if len(t.base[key]) != len(values) {
			continue
		}
		for _, value := range values {
			all[key] = append(all[key], Part{Value: value, Minus: make([]float64, len(inputs)), Plus: make([]float64, len(inputs))})
		}
	}
	sides := make([]struct {
		minus, plus composition
		err         error
	}, len(inputs))
	// Whoever watches counts rods and not their trials.
	if err := InParallel(Watched(ctx, nil), len(inputs), func(i int) {
		sides[i].minus, sides[i].plus, sides[i].err = t.either(inputs[i], newBuild(t.spec))
	}); err != nil {
		return nil, err
	}
	for i, side := range sides {
		if side.err != nil {
			return nil, side.err
		}
		for key, parts := range all {
			low, high, base := side.minus[key], side.plus[key], t.base[key]
			if len(low) != len(parts) || len(high) != len(parts) {
				delete(all, key)
				continue
			}
			for j := range parts {
				parts[j].Minus[i], parts[j].Plus[i] = low[j]-base[j], high[j]-base[j]
				if inputs[i].proportional {
					parts[j].Plus[i] /= aside
					parts[j].Minus[i] = -parts[j].Plus[i]
				}
			}
		}
	}
	return all, nil
}

// aside is the part of a deviation by which what is in proportion to it is put
// off: rings and whippings stand in whole millimetres and are off by such, and
// would come to end where something else does, which is another cut of the rod.
const aside = 0.97

// either reads the build with one input a deviation less and a deviation more.
// Masses and lengths act in proportion: one side, a part of a deviation off, stands
// for both.
func (t *trials) either(in perturbation, b *build) (minus, plus composition, err error) {
	read := func(b *build) (composition, error) { return t.read(b, in) }
	if in.proportional {
		*in.in(b) = aside * in.Deviation
		plus, err = read(b)
		return plus, plus, err
	}
	return bothWays(in, b, 1, read)
}

// Apart takes a figure's tolerance apart: what is not known of the blank, which is
// the same in all rods on it and gone once it is measured, and what differs from
// rod to rod. Their squares add up to its own.
func (f *Figures) Apart(fig Figure) (unknown, scatter float64) {
	spread, inputs := f.spread(fig.Key)
	if spread == nil {
		return 0, fig.Tolerance
	}
	for i, e := range spread.Effects {
		if inputs[i].ID.Kind == KnownInput {
			unknown = math.Hypot(unknown, e)
		}
	}
	return unknown, math.Sqrt(max(fig.Tolerance*fig.Tolerance-unknown*unknown, 0))
}

// spread is how a figure scatters, nil where that was not worked out or nothing makes
// it, and what with.
func (f *Figures) spread(key string) (*Spread, []Input) {
	t := f.tolerances()
	if t == nil {
		return nil, nil
	}
	return t.Spreads[key], t.Inputs
}

// tolerances are nil where they are not known.
func (f *Figures) tolerances() *Tolerances {
	if f.Tolerances == nil {
		return nil
	}
	return f.Tolerances()
}

// Contribution is one input's part in the tolerance of a figure.
type Contribution struct {
	Input
	Effect float64 // what one deviation more of the input does to the figure, in the figure's unit
}

// Contributions gives the inputs that a figure's tolerance comes from, the largest
// effect first, and rest, the standard deviation of what comes from no input by
// itself. The squares of all of them add up to that of the tolerance.
func (f *Figures) Contributions(key string) (list []Contribution, rest float64) {
	s, inputs := f.spread(key)
	if s == nil {
		return nil, 0
	}
	var blank *Contribution // its parts have no names of their own
	for i, in := range inputs {
		switch {
		case s.Effects[i] == 0:
		case in.ID.Kind != KnownInput:
			list = append(list, Contribution{in, s.Effects[i]})
		case blank == nil:
			blank = &Contribution{in, math.Abs(s.Effects[i])}
		default:
			blank.Effect = math.Hypot(blank.Effect, s.Effects[i])
		}
	}
	if blank != nil {
		list = append(list, *blank)
	}
	slices.SortStableFunc(list, func(a, b Contribution) int { return cmp.Compare(math.Abs(b.Effect), math.Abs(a.Effect)) })
	return list, s.Rest
}
