package beam

import (
	"errors"
	"math"
	"slices"
)

// smallShare is the part of the largest element's share of the mesh up to which
// an element stays whole. The error grows with the fifth power of the share, so
// dozens of elements that small, as feet and whippings make them, add less than
// a hundredth to what the halved ones leave.
const smallShare = 1.0 / 8

// Refined is the same rod with every element halved, but for those that are
// short already and add nothing to the error. It panics where a piece gives a
// bad value at a point that NewRod did not ask for; pieces must be sound from
// end to end.
func (r *Rod) Refined() *Rod {
	shares := r.shares()
	small := smallShare * slices.Max(shares)
	nodes := make([]float64, 1, 2*len(r.nodes)-1)
	elements := make([]element, 0, 2*len(r.elements))
	for e, share := range shares {
		if share > small {
			nodes = append(nodes, (r.nodes[e]+r.nodes[e+1])/2)
			first, second := r.halves(e)
			elements = append(elements, first, second)
		} else {
			elements = append(elements, r.elements[e])
		}
		nodes = append(nodes, r.nodes[e+1])
	}
	masses := make([]PointMass, 0, len(r.nodes))
	for i, m := range r.mass {
		if m > 0 {
			masses = append(masses, PointMass{S: r.nodes[i], Mass: m, Offset: r.moment[i] / m})
		}
	}
	fine := assemble(r.pieces, nodes, elements, masses)
	fine.breaks, fine.wanted = r.breaks, 2*r.wanted
	return fine
}

// shares are how much of the mesh each element takes up by the mesher's
// measure: its part of the length and its part of ∫ds/√EI.
func (r *Rod) shares() []float64 {
	shares := make([]float64, len(r.elements))
	soft := 0.0
	for e := range r.elements {
		el := &r.elements[e]
		for j, ei := range el.ei {
			shares[e] += gaussWeight[j] * el.h / math.Sqrt(ei)
		}
		soft += shares[e]
	}
	for e := range shares {
		shares[e] = shares[e]/soft + r.elements[e].h/r.Length()
	}
	return shares
}

// halves are the two elements that one is cut into. Their common end is the
// middle Gauss point of the whole.
func (r *Rod) halves(e int) (first, second element) {
	el, p := &r.elements[e], r.pieces[r.elements[e].piece]
	from, to := r.nodes[e], r.nodes[e+1]
	mid := (from + to) / 2
	first = element{piece: el.piece, eiStart: el.eiStart, eiEnd: el.ei[points/2]}
	second = element{piece: el.piece, eiStart: el.ei[points/2], eiEnd: el.eiEnd}
	if err := errors.Join(first.sample(p, from, mid), second.sample(p, mid, to)); err != nil {
		panic("beam: a piece is sound at some of its points only: " + err.Error())
	}
	return first, second
}
