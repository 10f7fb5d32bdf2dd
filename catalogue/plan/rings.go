package plan

import (
	"cmp"
	"math"
	"slices"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/models/units"
)

// layRings lays out the rings of a rod anew: as many as are made so far, the
// lowest where it has come to.
func (w *workshop) layRings(s *models.Spec, x state) (*models.Spec, *evaluate.Figures, error) {
	from, to := len(w.Start.Rings)-1, len(w.Goal.Rings)-1
	count := from + int(math.Round(w.share(x, ringCount, diffing.RingPattern)*float64(to-from)))
	place := w.buttPlace(w.share(x, buttPlace, diffing.RingPattern))
	patterns, err := evaluate.New(s, w.Settings).Patterns()
	if err != nil {
		return nil, nil, err
	}
	p, err := patterns.Lay(count, s.TotalLength()-place)
	if err != nil {
		return nil, nil, err
	}
	return p.Spec, p.Figures, nil
}

// chooseButts picks a ring for each size between the butt ring of the start and
// that of the goal: of those of the size the one that stands most nearly as high
// as lies between, with as many feet.
func (w *workshop) chooseButts(steps int) {
	first, last := buttPart(w.Start), buttPart(w.Goal)
	var sizes []units.Length
	for _, p := range w.Parts.All {
		if isRing(p) && between(p.Size.Value, first.Size.Value, last.Size.Value) {
			sizes = append(sizes, p.Size.Value)
		}
	}
	slices.Sort(sizes)
	sizes = slices.Compact(sizes)
	if last.Size.Value < first.Size.Value {
		slices.Reverse(sizes)
	}
	w.butts = []*models.Part{first}
	for i, size := range sizes {
		height := first.Height.Value + units.Length(i+1)/units.Length(steps)*(last.Height.Value-first.Height.Value)
		w.butts = append(w.butts, w.ringLike(size, height, last.Feet))
	}
	w.butts = append(w.butts, last)
}

func buttPart(s *models.Spec) *models.Part { return s.Parts[s.Rings[len(s.Rings)-1].Part.Text] }

func isRing(p *models.Part) bool { return p.Kind == models.RingPart && p.Feet > 0 }

// between reports whether a size lies between two others.
func between(size, a, b units.Length) bool { return min(a, b) < size && size < max(a, b) }

// ringLike is the ring of that size that is most like one of that height.
func (w *workshop) ringLike(size, height units.Length, feet int) *models.Part {
	var fit []*models.Part
	for _, p := range w.Parts.All {
		if isRing(p) && p.Size.Value == size {
			fit = append(fit, p)
		}
	}
	return slices.MinFunc(fit, func(a, b *models.Part) int {
		return cmp.Or(
			cmp.Compare(otherThan(a.Feet, feet), otherThan(b.Feet, feet)),
			cmp.Compare(math.Abs(float64(a.Height.Value-height)), math.Abs(float64(b.Height.Value-height))))
	})
}

func otherThan(a, b int) int {
	if a == b {
		return 0
	}
	return 1
}

// withButt is a spec with the butt ring that is made so far.
func (w *workshop) withButt(s *models.Spec, x state) (*models.Spec, error) {
	steps := len(w.butts) - 1
	part := w.butts[int(math.Round(w.share(x, buttSize, diffing.Group{})*float64(steps)))]
	m := *s.Model
	m.Rings = slices.Clone(m.Rings)
	m.Rings[len(m.Rings)-1].Part.Text = part.Name
	return models.Resolve(&m, w.Parts, w.Materials)
}
