package diffing

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"rodlore/evaluate"
	"rodlore/models"
)

// Shares says which edit did what: the change of every figure, shared out among
// the edits.
type Shares struct {
	List []Share // of the edits that a figure can hang on, in the order of the format
	// Without are the keys of figures that have no shares, for with some of the
	// edits and without the others the rod has no such figure.
	Without []string
	// Orders is how many orders of the edits the shares are estimated from, where
	// there are too many to work out all; 0 where they are exact.
	Orders int
}

// Share is one edit's part in the change of the figures.
type Share struct {
	Edit
	// Figures gives the part by the figure's key, in the figure's unit. Over all
	// edits the parts add up to the change. A figure that has none is
	// among those Without.
	Figures map[string]float64
	// StandardErrors are those of parts that were estimated; nil where all are
	// exact.
	StandardErrors map[string]float64
}

const (
	// exactEdits is the largest number of edits whose combinations are all
	// worked out.
	exactEdits = 10
	// sampledBlends is about how many rods are worked out beyond.
	sampledBlends = 2048
	// leastPairs bounds the standard errors' own scatter to about a sixth.
	leastPairs = 16
)

// ShareOut shares out the change of every figure between two specs among the
// edits that lead from one to the other. Each edit's share is its Shapley
// value: what making it changes, on average over all orders in which the edits
// can be made. Up to ten edits it is exact; beyond, it is estimated from random
// orders, always the same ones, and has a standard error.
//
// work works out the figures of a spec. It is called concurrently, for Blends
// of the two specs. An error says which edits, made without the others, leave
// no rod.
func (c *Comparison) ShareOut(ctx context.Context, work func(*models.Spec) (*evaluate.Figures, error)) (*Shares, error) {
	from, err := work(c.Old)
	if err != nil {
		return nil, err
	}
	to, err := work(c.New)
	if err != nil {
		return nil, err
	}
	d := division{
		edits: slices.DeleteFunc(Edits(c.Changes()), Edit.Silent),
		keys:  bothHave(from, to), work: work, blender: newBlender(c),
	}
	d.from, d.to = d.read(from), d.read(to)
	return d.shares(ctx)
}

// Silent reports whether no figure can hang on anything in the edit.
func (e Edit) Silent() bool {
	return !slices.ContainsFunc(e.Changes, func(c Change) bool { return !c.silent() })
}

// silent reports whether no figure can hang on what changed.
func (c Change) silent() bool {
	switch c.Path.String() {
	case "name", "family", "job", "length", "finish.colour", "finish.trim", "fitted.to", "fitted.date":
		return true
	}
	return slices.Contains([]string{"wants", "tolerances", "tops"}, c.Path[0].Key)
}

// bothHave lists the figures that both sides have.
func bothHave(from, to *evaluate.Figures) []string {
	var keys []string
	for _, f := range to.List {
		if _, ok := from.Get(f.Key); ok {
			keys = append(keys, f.Key)
		}
	}
	return keys
}

// division is a change of figures to be shared out among edits.
type division struct {
	edits    []Edit
	keys     []string  // of the figures
	from, to []float64 // the figures of the two specs
	work     func(*models.Spec) (*evaluate.Figures, error)
	blender  *blender
}

// read gives the figures by their place in keys; NaN where there is none.
func (d *division) read(figs *evaluate.Figures) []float64 {
	values := make([]float64, len(d.keys))
	for k, key := range d.keys {
		values[k] = math.NaN()
		if f, ok := figs.Get(key); ok {
			values[k] = f.Value
		}
	}
	return values
}

// worth gives the figures with some of the edits made.
func (d *division) worth(made []bool) ([]float64, error) {
	taken := map[Group]bool{}
	var names []string
	for i, yes := range made {
		if group := d.edits[i].Group; yes {
			taken[group] = true
			names = append(names, group.String())
		}
	}
	switch len(names) {
	case 0:
		return d.from, nil
	case len(d.edits):
		return d.to, nil
	}
	spec, err := d.blender.blend(taken)
	var figs *evaluate.Figures
	if err == nil {
		figs, err = d.work(spec)
	}
	if err != nil {
		return nil, fmt.Errorf("there are no shares, for with %s changed alone there is no rod: %w", strings.Join(names, ", "), unplaced(err))
	}
	return d.read(figs), nil
}

// unplaced is the first fault of a spec that stands in no file, without the
// place that what is wrong came from.
func unplaced(err error) error {
	var faults models.Faults
	if errors.As(err, &faults) {
		return fmt.Errorf("%s: %s", faults[0].Path, faults[0].Msg)
	}
	return err
}

func (d *division) shares(ctx context.Context) (*Shares, error) {
	if len(d.edits) == 0 {
		return &Shares{}, nil
	}
	g := game{len(d.edits), d.worth}
	if len(d.edits) <= exactEdits {
		values, err := g.exact(ctx)
		if err != nil {
			return nil, err
		}
		return d.gather(values, nil), nil
	}
	pairs := max(leastPairs, sampledBlends/(2*(len(d.edits)-1)))
	values, off, err := g.sampled(ctx, pairs, rand.New(rand.NewPCG(1, 2))) // two runs say the same
	if err != nil {
		return nil, err
	}
	s := d.gather(values, off)
	s.Orders = 2 * pairs
	return s, nil
}

// gather sorts values, and their standard errors if they have any, by edit and
// figure.
func (d *division) gather(values, off [][]float64) *Shares {
	s := &Shares{List: make([]Share, len(d.edits))}
	for i, e := range d.edits {
		s.List[i] = Share{Edit: e, Figures: map[string]float64{}}
		if off != nil {
			s.List[i].StandardErrors = map[string]float64{}
		}
	}
	for k, key := range d.keys {
		if slices.ContainsFunc(values, func(v []float64) bool { return math.IsNaN(v[k]) }) {
			s.Without = append(s.Without, key)
			continue
		}
		for i := range s.List {
			s.List[i].Figures[key] = values[i][k]
			if off != nil {
				s.List[i].StandardErrors[key] = off[i][k]
			}
		}
	}
	return s
}
