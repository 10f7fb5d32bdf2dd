package evaluate

import (
	"errors"
	"math"

	"rodlore/evaluate/beam"
)

// fibre is the cross-section at a node of the mesh, on either side of it.
type fibre struct{ before, after cross }

// Failure is how a blank fails when it is bent too far.
type Failure string

const (
	// MaterialFails first: the outer fibre is shortened beyond what it bears.
	MaterialFails Failure = "material"
	// WallFlattens first: the round section becomes an oval until it folds.
	WallFlattens Failure = "flattening"
	// WallWrinkles first: the compressed side buckles in short waves.
	WallWrinkles Failure = "wrinkling"
)

// fibres gives the outer fibres at the nodes of the kernel's rod.
func (r *rod) fibres(nodes []float64) []fibre {
	out := make([]fibre, len(nodes))
	i := 0
	for n, s := range nodes {
		z := min(r.held+s, r.length)
		for r.pieces[i].to < z-1e-9 {
			i++
		}
		out[n].before = r.pieces[i].walledAt(z)
		out[n].after = out[n].before
		if i+1 < len(r.pieces) && math.Abs(r.pieces[i].to-z) < 1e-9 {
			out[n].after = r.pieces[i+1].walledAt(z)
		}
	}
	out[0].before = out[0].after
	return out
}

// walledAt is the cross-section at z with the limit of its wall.
func (p *piece) walledAt(z float64) cross {
	c := p.at(z)
	c.Wall, c.WallBy = c.wallLimit()
	return c
}

// bears is the strain of the outer fibre at which the blank fails, 0 where the
// material gives none, and what fails then. A bent tube fails at the smallest
// of the strain that its material bears and those at which its wall buckles
// (found in tests of a graphite rod by Ohnishi and Matsuzaki 1985, Computers &
// Structures 21, 265–271). How the feet of rings, whippings and the other tube
// of a joint hold the wall up is left out.
func (c *cross) bears() (strain float64, by Failure) {
	if c.Allow > 0 && c.Wall > 0 && c.Wall < c.Allow {
		return c.Wall, c.WallBy
	}
	return c.Allow, MaterialFails
}

// strain is that of the outer fibre for a curvature of 1/m.
func (c *cross) strain() float64 { return c.Outside / 2 }

// wallLimit is the strain of the outer fibre at which the wall buckles, and how;
// 0 where the wall is not known, or solid.
func (c *cross) wallLimit() (float64, Failure) {
	if c.Shell.Radius == 0 {
		return 0, ""
	}
	// The strain of the middle of the wall, brought to the outer fibre.
	out := c.Outside / 2 / c.Shell.Radius
	flat, wrinkled := c.Shell.Flattens(), c.Shell.Wrinkles()
	if flat < wrinkled {
		return flat * out, WallFlattens
	}
	return wrinkled * out, WallWrinkles
}

// crossAt is the cross-section at z.
func (r *rod) crossAt(z float64) cross { return r.pieceAt(z).walledAt(z) }

// share is how much of what is allowed the outer fibre bears for a curvature of
// 1/m; 0 where the material gives no limit.
func (p *pass) share(c *cross) float64 {
	most, _ := c.bears()
	if most == 0 {
		return 0
	}
	return c.strain() * p.set.StrainFactor / most
}

// nearTop is the share of the highest node from which an element's own highest
// place may be higher than that.
const nearTop = 0.98

// peak is the largest of |κ|·per along the rod, and where it is, m from the
// clamp: that of the nodes and, on the elements that come near the highest, of
// where the parabola through both ends and the middle is highest.
func (p *pass) peak(sh *beam.Shape, per func(*cross) float64) (most, at float64) {
	if p.fibres == nil {
		p.fibres = p.rod.fibres(p.beam.Nodes())
	}
	before := func(i int) float64 { return math.Abs(sh.Curvature[i].Before) * per(&p.fibres[i].before) }
	after := func(i int) float64 { return math.Abs(sh.Curvature[i].After) * per(&p.fibres[i].after) }
	for i, s := range sh.S {
		if v := max(before(i), after(i)); v > most {
			most, at = v, s
		}
	}
	least := nearTop * most
	value := func(s float64) float64 {
		c := p.rod.crossAt(p.rod.held + s)
		v := math.Abs(sh.At(s).Curvature) * per(&c)
		if v > most {
			most, at = v, s
		}
		return v
	}
	for i := range len(sh.S) - 1 {
		a, b := after(i), before(i+1)
		if max(a, b) < least {
			continue
		}
		half := (sh.S[i+1] - sh.S[i]) / 2
		m := value(sh.S[i] + half)
		bend := a - 2*m + b
		if t := (a - b) / (2 * bend); bend < 0 && math.Abs(t) < 1 {
			value(sh.S[i] + (1+t)*half)
		}
	}
	return most, at
}

// weakest is what of a bent rod is nearest to its limit. What a ring's foot does to the
// neutral axis is left out.
func (p *pass) weakest(sh *beam.Shape) Weakest {
	_, at := p.peak(sh, p.share)
	c := p.rod.crossAt(p.rod.held + at)
	_, by := c.bears()
	return Weakest{by, p.beam.Length() - at}
}

// worstShare is the largest share of the allowed that any outer fibre bears.
func (p *pass) worstShare(sh *beam.Shape) float64 {
	share, _ := p.peak(sh, p.share)
	return share
}

var errNoLimit = errors.New("no material of the blank gives a strain limit; put strain: {compression: …} into materials.yaml")

// limitLoad is the force at which the most loaded fibre bears all that is
// allowed, N, and the bend there or next to it.
type limitLoad struct {
	force float64
	bent  float64 // the force of the bend
	slope float64 // of the logarithm of the share over that of the force, 0 where unknown
	*beam.Shape
}

// limitSearch is to what share of it a load limit is searched, and limitTouching
// to what share it, and what else follows the line through the rings, is known where
// the line may lie on the blank, which it does on whole parts of elements.
const limitSearch, limitTouching = 2e-6, 1e-4

// usualSlope is that of a rod bent well round, leastSlope that of one pulled
// nearly straight.
const (
	usualSlope = 0.65
	leastSlope = 0.02
	mostSlope  = 5
)

// bendToLimit finds the limit load, from that of a coarser mesh or a like load
// or, without a Shape, a guess.
// The share grows with a power of the force that changes slowly, so a secant
// through the logarithms closes in fast.
func (p *pass) bendToLimit(bend func(force float64) (*beam.Shape, error), start limitLoad) (*limitLoad, error) {
	const near = 3e-5 // from a share this near to 1 the last step is right to limitSearch
	x, slope := math.Log(start.force), start.slope
	if !(slope > leastSlope) {
		slope = usualSlope
	}
	known := start.Shape != nil
	var x0, y0 float64
	for i := range 30 {
		sh, err := bend(math.Exp(x))
		if err != nil {
			return nil, err
		}
		share := p.worstShare(sh)
		if share == 0 {
			return nil, errNoLimit
		}
		y := math.Log(share)
		if i > 0 {
			slope, known = (y-y0)/(x-x0), true
		}
		if !(slope > leastSlope && slope < mostSlope) { // the worst place has changed over
			slope, known = usualSlope, false
		}
		x0, y0, x = x, y, x-y/slope
		if y == 0 || known && math.Abs(y) < near {
			return &limitLoad{math.Exp(x), math.Exp(x0), slope, sh}, nil
		}
	}
	return nil, errors.New("the search for the load limit did not settle; look whether the moduli, the walls and the strain limits are as you meant them")
}
