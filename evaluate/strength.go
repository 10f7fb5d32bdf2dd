package evaluate

import (
	"errors"
	"math"

	"rodlore/evaluate/beam"
)

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

// weakest is what of a bent rod is nearest to its limit. What a ring's foot does to the
// neutral axis is left out.
func (p *pass) weakest(sh *beam.Shape) Weakest {
	at := p.peak(sh, p.share)
	c := at.walledAt(at.z)
	_, by := c.bears()
	return Weakest{by, p.rod.length - at.z}
}

// worstShare is the largest share of the allowed that any outer fibre bears.
func (p *pass) worstShare(sh *beam.Shape) float64 { return p.peak(sh, p.share).value }

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
