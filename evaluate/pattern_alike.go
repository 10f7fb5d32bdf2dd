package evaluate

import (
	"fmt"
	"slices"

	"rodlore/models"
	"rodlore/models/units"
)

// Alike is the rod with another number of like rings: spaced as the present ones are,
// closer or wider, and each made for its place, from what lies between the present
// rings on either side of it in mass, size, height and foot. So two counts differ by
// the count alone. In patterns that are laid out of the parts that there are, one ring
// more may happen to let all of them be lighter or stand lower.
func (p *Patterns) Alike(count int) (*models.Spec, error) {
	l, err := newLayout(p, count, 0)
	if err != nil {
		return nil, fmt.Errorf("%d rings: %w", count, err)
	}
	for i, at := range l.at {
		l.at[i] = p.marks.nearest(at)
	}
	rings := l.rings(l.at)
	var made []*models.Part
	for i := 1; i < count; i++ {
		part := p.between(float64(rings[i].At.Value))
		part.Name = fmt.Sprintf("ring %d of %d", i, count)
		rings[i].Part.Text = part.Name
		made = append(made, part)
	}
	return p.spec.WithRings(rings, made...)
}

// between is a ring for a place, m from the tip, between the present rings on either
// side of it: of their measures each by how near it is, with as many feet as the
// nearer one. Above the highest and below the lowest ring it is that one.
func (p *Patterns) between(at float64) *models.Part {
	rings := p.spec.Rings[1:]
	below := slices.IndexFunc(rings, func(g models.Ring) bool { return float64(g.At.Value) >= at })
	below = max(below, 0)
	above := max(below-1, 0)
	a, b := p.spec.Parts[rings[above].Part.Text], p.spec.Parts[rings[below].Part.Text]
	u := 0.0
	if from, to := float64(rings[above].At.Value), float64(rings[below].At.Value); to > from {
		u = (at - from) / (to - from)
	}
	made := *a
	if u > 0.5 {
		made = *b
	}
	mix(&made.Mass, a.Mass, b.Mass, u)
	mix(&made.Size, a.Size, b.Size, u)
	mix(&made.Height, a.Height, b.Height, u)
	mix(&made.Foot.Length, a.Foot.Length, b.Foot.Length, u)
	mix(&made.Foot.Width, a.Foot.Width, b.Foot.Width, u)
	mix(&made.Foot.Thickness, a.Foot.Thickness, b.Foot.Thickness, u)
	if a.Foot.Spread.Set() && b.Foot.Spread.Set() {
		mix(&made.Foot.Spread, a.Foot.Spread, b.Foot.Spread, u)
	}
	made.Price = models.Given[units.Money]{}
	return &made
}

// mix sets a measure to what lies between two others.
func mix[Q ~float64](of *models.Given[Q], a, b models.Given[Q], u float64) {
	of.Value = a.Value + Q(u)*(b.Value-a.Value)
}
