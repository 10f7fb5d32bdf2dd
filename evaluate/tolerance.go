package evaluate

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"rodlore/evaluate/figures"
	"rodlore/models"
)

// EvaluateWithTolerances works out what Evaluate does and with it how far the
// figures of rods built to the spec scatter: Figure.Tolerance and
// Figures.Sources.
func EvaluateWithTolerances(ctx context.Context, s *models.Spec, set *models.Settings) (*Figures, error) {
	w, err := workOut(s, set)
	if err != nil {
		return nil, err
	}
	t, err := newTrials(w.rod, set, w.solved)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	inputs := inputsOf(s, set)
	probed, err := t.probe(ctx, inputs)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	f := w.figures
	f.Tolerances = &Tolerances{Inputs: exported(inputs), Spreads: map[string]*Spread{}}
	d, draws := set.Display(), newDraws(len(inputs), spreadSamples)
	for i := range f.List {
		fig := &f.List[i]
		if figures.Of(fig.Key).Exact {
			continue
		}
		parts, ok := probed[fig.Key]
		if !ok {
			fig.Tolerance = math.NaN()
			continue
		}
		spread := propagate(parts, t.composition(fig.Key), draws)
		f.Tolerances.Spreads[fig.Key] = &spread
		fig.Tolerance, fig.Sampled = spread.tolerance(), spread.crooked()
		fig.Text = sentence(fig, w.say[fig.Key], d)
	}
	f.Tolerances.Wants = t.shares(f, probed)
	return f, nil
}

// probe reads the parts of all figures with every input off either way. A
// figure that a build has not, such as one whose tip cannot be brought to the
// test curve's turn, is left out.
func (t *trials) probe(ctx context.Context, inputs []input) (map[string][]probed, error) {
	all := map[string][]probed{}
	for key, parts := range t.base {
		for _, value := range parts {
			all[key] = append(all[key], probed{value: value})
		}
	}
	b := newBuild(t.spec)
	for _, in := range inputs {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		minus, plus, err := t.either(in, b)
		if err != nil {
			return nil, err
		}
		for key, parts := range all {
			low, high := minus[key], plus[key]
			if len(low) != len(parts) || len(high) != len(parts) {
				delete(all, key)
				continue
			}
			for j := range parts {
				parts[j].minus = append(parts[j].minus, low[j])
				parts[j].plus = append(parts[j].plus, high[j])
			}
		}
	}
	return all, nil
}

// either reads the build with one input a deviation less and a deviation more.
// Masses act in proportion, so that one side tells the other.
func (t *trials) either(in input, b *build) (minus, plus reading, err error) {
	at := in.in(b)
	defer func() { *at = 0 }()
	*at = in.Deviation
	if plus, err = t.read(b, in.reach); err != nil {
		return nil, nil, err
	}
	if in.proportional {
		return t.mirrored(plus), plus, nil
	}
	*at = -in.Deviation
	minus, err = t.read(b, in.reach)
	return minus, plus, err
}

// mirrored is as far from the spec as r the other way.
func (t *trials) mirrored(r reading) reading {
	m := reading{}
	for key, parts := range r {
		base := t.base[key]
		if len(base) != len(parts) {
			continue
		}
		m[key] = make([]float64, len(parts))
		for j, v := range parts {
			m[key][j] = 2*base[j] - v
		}
	}
	return m
}

// Source is one input's part in the tolerance of a figure.
type Source struct {
	Input
	Effect float64 // what one deviation more of the input does to the figure, in the figure's unit
}

// Sources gives the inputs that a figure's tolerance comes from, the largest
// effect first, and rest, the standard deviation of what comes from no input by
// itself. The squares of all of them add up to that of the tolerance.
func (f *Figures) Sources(key string) (sources []Source, rest float64) {
	if f.Tolerances == nil || f.Tolerances.Spreads[key] == nil {
		return nil, 0
	}
	s := f.Tolerances.Spreads[key]
	for i, in := range f.Tolerances.Inputs {
		if s.Effects[i] != 0 {
			sources = append(sources, Source{in, s.Effects[i]})
		}
	}
	slices.SortStableFunc(sources, func(a, b Source) int { return cmp.Compare(math.Abs(b.Effect), math.Abs(a.Effect)) })
	return sources, s.Rest
}
