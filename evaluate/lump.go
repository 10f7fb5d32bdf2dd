package evaluate

import "rodlore/evaluate/beam"

// lumpShare is the share of the free length up to which pieces are lumped.
const lumpShare = 1. / 50

// lumpedElements is how many elements the lumped mesh has at least.
const lumpedElements = 12

// lumping is how the pieces of a rod were put together, and what came of it.
type lumping struct {
	*beam.Rod
	pieces int   // of the rod
	lumps  []int // how many of them each beam.Piece is, from the hold on
}

// lumped gives the rod beyond the hold to the kernel with its short pieces, as
// feet and whippings make them, put together into longer ones that give way and
// weigh as much. Of its figures only how they change with a small change of the
// rod is of use. A like rod, which may be nil, is lumped and meshed the same way.
func (r *rod) lumped(like *lumping) (*lumping, error) {
	l := &lumping{pieces: len(r.pieces)}
	if like != nil && like.pieces == l.pieces {
		l.lumps = like.lumps
	} else {
		l.lumps = r.lumps()
	}
	var pieces []beam.Piece
	i := r.firstFree()
	for _, n := range l.lumps {
		if n == 1 {
			pieces = append(pieces, r.beamPiece(i))
		} else {
			pieces = append(pieces, r.lumpPiece(i, i+n))
		}
		i += n
	}
	var err error
	if like != nil {
		l.Rod, err = like.Like(pieces, r.pointMasses())
	} else {
		l.Rod, err = beam.NewRod(pieces, r.pointMasses(), lumpedElements)
	}
	return l, err
}

// lumps says how many pieces come together, from the hold on.
func (r *rod) lumps() []int {
	var list []int
	most := lumpShare * (r.length - r.held)
	for i := r.firstFree(); i < len(r.pieces); {
		n := r.lump(i, most)
		list = append(list, n)
		i += n
	}
	return list
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

// lumpPiece puts pieces together into one whose give and mass vary linearly along
// it, with the sums and the first moments of theirs: where the bending moment
// does so as well, it bends the rod as they do.
func (r *rod) lumpPiece(first, end int) beam.Piece {
	from, to := r.pieces[first].from, r.pieces[end-1].to
	give, mass := newTally(from, to), newTally(from, to)
	for i := first; i < end; i++ {
		for _, c := range r.pieces[i].stations {
			give.add(c.z, c.weight/c.EI)
			mass.add(c.z, c.weight*c.Mu())
		}
	}
	gives, weighs := give.line(), mass.line()
	return beam.Piece{
		From: max(0, from-r.held), To: to - r.held,
		EI: func(s float64) float64 { return 1 / gives.at(s+r.held) },
		Mu: func(s float64) float64 { return weighs.at(s + r.held) },
	}
}

// tally is a quantity on a span: its sum and its first moment about the middle.
type tally struct {
	span
	sum, moment float64
}

func newTally(from, to float64) *tally { return &tally{span: span{from, to}} }

func (t *tally) add(z, v float64) {
	t.sum += v
	t.moment += v * (z - t.middle())
}

// line is the linear density of that sum and moment, which stays above a tenth of
// the mean everywhere.
func (t *tally) line() line {
	l := t.length()
	mean, slope := t.sum/l, 12*t.moment/(l*l*l)
	steepest := 0.9 * mean / (l / 2)
	return line{z0: t.middle(), v0: mean, slope: min(max(slope, -steepest), steepest)}
}
