package evaluate

import (
	"errors"
	"math"

	"rodlore/evaluate/beam"
)

// fibre is the outer fibre at a node of the mesh, on either side of it.
type fibre struct{ before, after edge }

// edge is half the blank's diameter, m, and the strain at which its outer fibre
// fails, 0 where the material gives none.
type edge struct{ radius, allow float64 }

// fibres gives the outer fibres at the nodes of the kernel's rod.
func (r *rod) fibres(nodes []float64) []fibre {
	out := make([]fibre, len(nodes))
	edgeOf := func(p *piece, z float64) edge {
		c := p.at(z)
		return edge{c.Outside / 2, c.Allow}
	}
	i := 0
	for n, s := range nodes {
		z := min(r.held+s, r.length)
		for r.pieces[i].to < z-1e-9 {
			i++
		}
		out[n].before = edgeOf(&r.pieces[i], z)
		out[n].after = out[n].before
		if i+1 < len(r.pieces) && math.Abs(r.pieces[i].to-z) < 1e-9 {
			out[n].after = edgeOf(&r.pieces[i+1], z)
		}
	}
	out[0].before = out[0].after
	return out
}

// worst walks the outer fibres of a bent rod: it gives the largest strain
// ε = κ·D/2, where it is, and the largest share of the allowable that any fibre
// bears. What a ring's foot does to the neutral axis is left out.
func (p *pass) worst(sh *beam.Shape) (strain, at, share float64) {
	look := func(curvature float64, e edge, s float64) {
		eps := math.Abs(curvature) * e.radius
		if eps > strain {
			strain, at = eps, s
		}
		if e.allow > 0 {
			share = max(share, eps*p.strainFactor()/e.allow)
		}
	}
	for i, s := range sh.S {
		look(sh.Curvature[i].Before, p.fibres[i].before, s)
		look(sh.Curvature[i].After, p.fibres[i].after, s)
	}
	return strain, at, share
}

// strainFactor is what the range divides the materials' limits by.
func (p *pass) strainFactor() float64 { return p.set.StrainFactor }

var errNoLimit = errors.New("no material of the blank gives a strain limit; put strain: {compression: …} into materials.yaml")

// bendToLimit finds the pull at which the most loaded fibre bears all that is
// allowed. The share grows with the load by a power that changes slowly, so a
// secant through the logarithms closes in fast.
func (p *pass) bendToLimit(test, start *beam.Shape) (*beam.Shape, error) {
	_, _, share := p.worst(test)
	if share == 0 {
		return nil, errNoLimit
	}
	x0, y0 := math.Log(test.Load.Force), math.Log(share)
	x1 := x0 - y0
	if start != nil {
		x1 = math.Log(start.Load.Force)
	}
	var sh *beam.Shape
	for range 30 {
		var err error
		if sh, err = p.solver.Bend(p.pulled(math.Exp(x1))); err != nil {
			return nil, err
		}
		_, _, share = p.worst(sh)
		y1 := math.Log(share)
		if math.Abs(y1) < 1e-9 {
			return sh, nil
		}
		slope := (y1 - y0) / (x1 - x0)
		if !(slope > 0.2 && slope < 5) { // the worst place has changed over
			slope = 1
		}
		x0, y0, x1 = x1, y1, x1-y1/slope
	}
	return nil, errors.New("the search for the load limit did not settle")
}
