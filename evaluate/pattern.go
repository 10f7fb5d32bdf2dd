package evaluate

import (
	"fmt"
	"slices"

	"rodlore/evaluate/beam"
	"rodlore/models"
)

// Patterns lays out ring patterns on one rod. All of them are laid out under
// the same pull, half the test curve of the rod as it stands, so that they
// compare. Several goroutines may use it at the same time.
type Patterns struct {
	present *Rod
	spec    *models.Spec
	set     *models.Settings
	figures *Figures
	tension float64 // N
	marks   divisions
}

// Pattern is a rod with its rings in one pattern.
type Pattern struct {
	Spec    *models.Spec // with the rings of the pattern
	Figures *Figures
	// Binding says what keeps the line's turn from being shared
	// evenly among the rings, or what is wrong with a pattern that was not laid
	// out. None where it is even.
	Binding []Note

	Tension float64    // N of the line beyond the tip ring, of what follows
	Rings   []RingLoad // tip ring first
	Bent    []Point    // the free length, tip first
	Line    []Place    // the line, from the tip ring through the rings to the reel
}

// Place is a place in the plane of a bent rod, as of a Point.
type Place struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// Patterns makes ready to lay out patterns on the rod. The error says why its
// present pattern cannot be bent.
func (on *Rod) Patterns() (*Patterns, error) {
	figs, err := on.Figures()
	if err != nil {
		return nil, err
	}
	s := on.spec
	test, ok := figs.Get("test-curve")
	switch {
	case !ok:
		return nil, fmt.Errorf("%s: no test curve to lay rings out by; \"figures\" says why", s.Name)
	case s.Bare:
		return nil, fmt.Errorf("%s: a bare blank; put rings on it first, as taped on by eye, and take bare: true out", s.Name)
	case len(s.Rings) < 2:
		return nil, fmt.Errorf("%s: no ring but the tip ring; give it one at least, of which the others can be made", s.Name)
	}
	return &Patterns{present: on, spec: s, set: on.set, figures: figs, tension: test.Value / 2, marks: divisionsOf(on.set)}, nil
}

// Present is the pattern that the rod has.
func (p *Patterns) Present() (*Pattern, error) {
	rings := p.spec.Rings[1:]
	l := &layout{Patterns: p}
	for i, g := range rings {
		l.at, l.after = append(l.at, float64(g.At.Value)), append(l.after, i+1)
	}
	return p.read(p.present, p.figures, l)
}

// FewestRings and MostRings are the running rings that a pattern may have.
const (
	FewestRings = 2
	MostRings   = 30
)

// Lay lays out a pattern of that many running rings, so that each of them turns
// the line by the same share, as far as the limits let it: see Binding. The
// lowest ring stands at buttRing, m from the tip; at 0 it stays where it is,
// since its place is a matter of casting. Rings are taken from the present ones
// by where they stand. Places are in whole millimetres, or sixteenths of
// an inch in an imperial range. The error says why
// there is no such pattern.
func (p *Patterns) Lay(count int, buttRing float64) (*Pattern, error) {
	l, err := newLayout(p, count, buttRing)
	if err == nil {
		err = l.settle()
	}
	if err != nil {
		return nil, fmt.Errorf("%d rings: %w", count, err)
	}
	return p.build(l.rings(l.rounded()), l)
}

// Like takes the count and the places of another rod's rings, as shares of its
// length, for this one. Nothing is laid out anew: Binding says what is wrong
// with it.
func (p *Patterns) Like(other *models.Spec) (*Pattern, error) {
	scale := p.spec.TotalLength() / other.TotalLength()
	var at []float64
	for _, g := range other.Rings[1:] {
		at = append(at, p.marks.nearest(scale*float64(g.At.Value)))
	}
	if len(at) == 0 {
		return nil, fmt.Errorf("%s has no ring but the tip ring", other.Name)
	}
	l, err := newLayout(p, len(at), at[len(at)-1])
	if err != nil {
		return nil, err
	}
	l.at = at
	l.choose()
	return p.build(l.rings(at), l)
}

// build makes the rod with those rings and works it out.
func (p *Patterns) build(rings []models.Ring, l *layout) (*Pattern, error) {
	s, err := p.spec.WithRings(rings)
	if err != nil {
		return nil, err
	}
	rod := New(s, p.set)
	figs, err := rod.Figures()
	if err != nil {
		return nil, err
	}
	return p.read(rod, figs, l)
}

// read reads a pattern from the rod bent by the common pull.
func (p *Patterns) read(on *Rod, figs *Figures, l *layout) (*Pattern, error) {
	m, err := on.mesh()
	if err != nil {
		return nil, err
	}
	s := on.spec
	sh, err := p.bend(m.rod, m.fine, nil)
	if err != nil {
		return nil, err
	}
	line := newBentLine(s, sh)
	slices.Reverse(line.Way)
	out := &Pattern{Spec: s, Figures: figs, Tension: p.tension, Rings: line.Rings, Bent: newBent(sh.Shape, sh.Shape).Points, Line: line.Way}
	out.Binding = append(l.binding(out.Rings), l.touching(sh)...)
	return out, nil
}

// bend bends a rod by the common pull, beginning at another bend if there is
// one.
func (p *Patterns) bend(r *rod, b *beam.Rod, from *beam.LineShape) (*beam.LineShape, error) {
	solver := beam.NewSolver(b)
	if from != nil {
		solver.StartFrom(from.Shape)
	}
	return solver.BendLine(r.threaded(p.tension, float64(p.set.TestCurve.Pull.Value), true))
}
