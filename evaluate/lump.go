package evaluate

import (
	"slices"

	"rodlore/evaluate/beam"
)

// lumpShare is the share of the free length up to which pieces are lumped.
const lumpShare = 1. / 50

// lumpedElements is how many elements the lumped mesh has at least.
const lumpedElements = 12

// lumping is how the pieces of a rod were put together, and what came of it.
type lumping struct {
	*beam.Rod
	rod   *rod
	ends  []int // behind which of the rod's pieces each lump ends, from the hold on
	lumps []beam.Piece
}

// lumped gives the rod beyond the hold to the kernel with its short pieces, as
// feet and whippings make them, put together into longer ones that give way and
// weigh as much. Of its figures only how they change with a small change of the
// rod is of use. A like rod, which may be nil, is lumped and meshed the same way.
func (r *rod) lumped(like *lumping) (*lumping, error) {
	l := &lumping{rod: r}
	if like != nil {
		l.ends = r.endsLike(like)
	} else {
		l.ends = r.lumpEnds()
	}
	l.lumps = make([]beam.Piece, len(l.ends))
	i := r.firstFree()
	for k, end := range l.ends {
		switch {
		case like != nil && slices.Equal(r.pieces[i:end], like.of(k)):
			l.lumps[k] = like.lumps[k]
		case end == i+1:
			l.lumps[k] = r.beamPiece(i)
		default:
			l.lumps[k] = r.lumpPiece(i, end)
		}
		i = end
	}
	var err error
	if like != nil {
		l.Rod, err = like.Like(l.lumps, r.pointMasses())
	} else {
		l.Rod, err = beam.NewRod(l.lumps, r.pointMasses(), lumpedElements)
	}
	return l, err
}

// of are the pieces that lump k is of.
func (l *lumping) of(k int) []*piece {
	first := l.rod.firstFree()
	if k > 0 {
		first = l.ends[k-1]
	}
	return l.rod.pieces[first:l.ends[k]]
}

// lumpEnds says behind which pieces lumps end.
func (r *rod) lumpEnds() []int {
	var ends []int
	most := lumpShare * (r.length - r.held)
	for i := r.firstFree(); i < len(r.pieces); {
		i += r.lump(i, most)
		ends = append(ends, i)
	}
	return ends
}

// endsLike ends lumps where those of a like rod end. Where one of the two has a
// sliver more, of what ends in one place in the other, that is the nearest place.
func (r *rod) endsLike(like *lumping) []int {
	if len(r.pieces) == len(like.rod.pieces) {
		return like.ends
	}
	var ends []int
	for _, end := range like.ends {
		z := like.rod.pieces[end-1].to
		i := r.indexAt(z)
		if p := r.pieces[i]; i > 0 && z-p.from < p.to-z {
			i--
		}
		if len(ends) == 0 || i+1 > ends[len(ends)-1] {
			ends = append(ends, i+1)
		}
	}
	ends[len(ends)-1] = len(r.pieces)
	return ends
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
		From: max(0, from-r.held), To: to - r.held, Of: give,
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
