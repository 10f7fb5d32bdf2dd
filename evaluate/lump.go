package evaluate

import "rodlore/evaluate/beam"

// lumpShare is the share of the free length up to which pieces are lumped.
const lumpShare = 1. / 50

// lumpedElements is how many elements the lumped mesh has at least.
const lumpedElements = 12

// lumped gives the rod beyond the hold to the kernel with its short pieces, as
// feet and whippings make them, put together into even ones that give way and
// weigh as much. Of its figures only how they change with a small change of the
// rod is of use: that differs by about a hundredth from what all pieces give.
func (r *rod) lumped(elements int) (*beam.Rod, error) {
	var pieces []beam.Piece
	most := lumpShare * (r.length - r.held)
	for i := r.firstFree(); i < len(r.pieces); {
		n := r.lump(i, most)
		if n == 1 {
			pieces = append(pieces, r.beamPiece(i))
		} else {
			pieces = append(pieces, r.lumpPiece(i, i+n))
		}
		i += n
	}
	return beam.NewRod(pieces, r.pointMasses(), elements)
}

// lump is how many pieces from i on make one lump: short ones until they come
// to that length together.
func (r *rod) lump(i int, most float64) int {
	n, length := 1, r.pieces[i].length()
	for length < most && i+n < len(r.pieces) && r.pieces[i+n].length() < most {
		length += r.pieces[i+n].length()
		n++
	}
	return n
}

// lumpPiece puts pieces together.
func (r *rod) lumpPiece(first, end int) beam.Piece {
	var give, mass float64
	for i := first; i < end; i++ {
		for _, c := range r.pieces[i].stations {
			give += c.weight / c.EI
			mass += c.weight * c.Mu()
		}
	}
	from, to := r.pieces[first].from, r.pieces[end-1].to
	ei, mu := (to-from)/give, mass/(to-from)
	return beam.Piece{
		From: max(0, from-r.held), To: to - r.held,
		EI: func(float64) float64 { return ei },
		Mu: func(float64) float64 { return mu },
	}
}
