package beam

import (
	"fmt"
	"math"
	"slices"
)

// Piece is a stretch of the rod over which the stiffness and the mass vary
// smoothly; between pieces they may jump, or bend sharply. The functions are
// asked for values from end to end of their piece, both ends included, and EI
// before Mu where both are wanted.
type Piece struct {
	From, To float64                 // m from the clamp
	EI       func(s float64) float64 // bending stiffness, N·m², over 0
	Mu       func(s float64) float64 // mass per length, kg/m, 0 or more

	// Of tells pieces apart: two of one Of, other than nil, are the same, so that
	// Rod.Like need not ask for its values again.
	Of any
}

// PointMass is a mass small enough to sit at one point, as a ring does.
type PointMass struct {
	S      float64 // m from the clamp
	Mass   float64 // kg
	Offset float64 // of its centre from the centreline, m, positive on the hollow side
}

// Rod is a meshed rod, clamped at s = 0 and free at s = Length. It does not
// change once made, so any number of solvers may share one.
type Rod struct {
	pieces   []Piece
	nodes    []float64 // s of the element ends, clamp first
	elements []element
	mass     []float64 // point mass at each node, kg
	moment   []float64 // ∑ mass·offset at each node, kg·m
	beyond   []float64 // mass strictly beyond each node, kg
	offsets  bool      // some mass stands off the centreline

	breaks []float64 // where a node had to stand
	wanted int       // about how many elements were asked for
}

// element is one stretch between two nodes, with what the solver needs of it
// worked out once.
type element struct {
	piece  int
	h      float64         // length, m
	ei     [points]float64 // N·m² at the Gauss points
	mu     [points]float64 // kg/m at the Gauss points
	beyond [points]float64 // mass between the Gauss point and the tip, kg

	eiStart, eiEnd float64 // N·m² at the ends, seen from inside

	// Bending energy ½(kEnds·D² + 2·kMixed·D·b + kBubble·b²), where D is the
	// turn from start to end and b the bubble.
	kEnds, kMixed, kBubble float64
}

// maxElements keeps a slip in a count from eating all memory.
const maxElements = 1 << 20

// NewRod meshes a rod into about that many elements; nodes stand at every end
// of a piece and at every point mass, so short pieces may need more. The
// pieces must follow each other from s = 0 without gaps. It fails where they
// do not, where a stiffness is not positive or a mass negative, where a mass
// lies off the rod, and on any value that is not a finite number.
func NewRod(pieces []Piece, masses []PointMass, elements int) (*Rod, error) {
	if err := checkRod(pieces, masses, elements); err != nil {
		return nil, err
	}
	m := mesher{pieces: pieces, breaks: breakpoints(pieces, masses), elements: elements}
	nodes, err := m.nodes()
	if err != nil {
		return nil, err
	}
	return meshed(pieces, masses, nodes, m.breaks, elements, nil)
}

// meshed is the rod on those nodes.
func meshed(pieces []Piece, masses []PointMass, nodes, breaks []float64, wanted int, like *Rod) (*Rod, error) {
	elements, err := cut(pieces, nodes, like)
	if err != nil {
		return nil, err
	}
	r := assemble(slices.Clone(pieces), nodes, elements, masses)
	r.breaks, r.wanted = breaks, wanted
	return r, nil
}

func checkRod(pieces []Piece, masses []PointMass, elements int) error {
	if err := checkPieces(pieces); err != nil {
		return err
	}
	if err := checkMasses(masses, pieces[len(pieces)-1].To); err != nil {
		return err
	}
	if elements < 1 || elements > maxElements {
		return fmt.Errorf("a rod needs between 1 and %d elements, not %d", maxElements, elements)
	}
	return nil
}

func checkPieces(pieces []Piece) error {
	if len(pieces) == 0 {
		return fmt.Errorf("a rod needs at least one piece")
	}
	end := 0.0
	for i, p := range pieces {
		if !finite(p.From, p.To) || p.To-p.From <= joinTolerance*p.To {
			return fmt.Errorf("piece %d must run forwards between two finite places, not from %g to %g m", i, p.From, p.To)
		}
		if math.Abs(p.From-end) > joinTolerance*p.To {
			return fmt.Errorf("piece %d must begin at %g m where the one before ends, not at %g m", i, end, p.From)
		}
		if p.EI == nil || p.Mu == nil {
			return fmt.Errorf("piece %d needs both a stiffness and a mass", i)
		}
		end = p.To
	}
	return nil
}

func checkMasses(masses []PointMass, length float64) error {
	for i, m := range masses {
		switch {
		case !finite(m.S, m.Mass, m.Offset):
			return fmt.Errorf("point mass %d must have finite numbers, not %+v", i, m)
		case m.S < 0 || m.S > length*(1+joinTolerance):
			return fmt.Errorf("point mass %d must lie on the rod, 0 to %g m, not at %g m", i, length, m.S)
		case m.Mass < 0:
			return fmt.Errorf("point mass %d must not be negative (%g kg)", i, m.Mass)
		}
	}
	return nil
}

// cut makes the elements between the nodes. Their ends are sampled as well,
// since the curvature beside a jump needs the stiffness of either side. What has
// not changed from a like rod, which may be nil, is taken from that.
func cut(pieces []Piece, nodes []float64, like *Rod) ([]element, error) {
	elements := make([]element, len(nodes)-1)
	piece := 0
	for e := range elements {
		el, from, to := &elements[e], nodes[e], nodes[e+1]
		if (from+to)/2 > pieces[piece].To {
			piece++
		}
		if like.hasElement(e, pieces[piece], from, to) {
			*el = like.elements[e]
			el.piece = piece
			continue
		}
		el.piece = piece
		var err error
		if e > 0 && elements[e-1].piece == piece {
			el.eiStart = elements[e-1].eiEnd
		} else if el.eiStart, err = pieces[piece].stiffness(piece, from); err != nil {
			return nil, err
		}
		if el.eiEnd, err = pieces[piece].stiffness(piece, to); err != nil {
			return nil, err
		}
		if err := el.sample(pieces[piece], from, to); err != nil {
			return nil, err
		}
	}
	return elements, nil
}

// hasElement reports whether element e is the stretch of that piece.
func (r *Rod) hasElement(e int, p Piece, from, to float64) bool {
	return r != nil && p.Of != nil && e < len(r.elements) &&
		r.pieces[r.elements[e].piece].Of == p.Of && r.nodes[e] == from && r.nodes[e+1] == to
}

// sample works out what lies between the element's ends.
func (el *element) sample(p Piece, from, to float64) (err error) {
	el.h = to - from
	for j, at := range gaussAt {
		s := from + at*el.h
		if el.ei[j], err = p.stiffness(el.piece, s); err != nil {
			return err
		}
		if el.mu[j], err = p.mass(el.piece, s); err != nil {
			return err
		}
		k := gaussWeight[j] * el.ei[j] / el.h
		slope := 4 * (1 - 2*at)
		el.kEnds += k
		el.kMixed += k * slope
		el.kBubble += k * slope * slope
	}
	return nil
}

// assemble puts the masses on the nodes and adds all mass up.
func assemble(pieces []Piece, nodes []float64, elements []element, masses []PointMass) *Rod {
	sums := make([]float64, 3*len(nodes))
	n := len(nodes)
	r := &Rod{
		pieces: pieces, nodes: nodes, elements: elements,
		mass: sums[:n:n], moment: sums[n : 2*n : 2*n], beyond: sums[2*n:],
	}
	for _, m := range masses {
		i := nearest(nodes, m.S)
		r.mass[i] += m.Mass
		r.moment[i] += m.Mass * m.Offset
		r.offsets = r.offsets || m.Mass*m.Offset != 0
	}
	r.sumBeyond()
	return r
}

func (p Piece) stiffness(index int, s float64) (float64, error) {
	if ei := p.EI(s); ei > 0 && !math.IsInf(ei, 0) {
		return ei, nil
	}
	return 0, fmt.Errorf("piece %d must be stiffer than 0 everywhere: EI is %g N·m² at %g m", index, p.EI(s), s)
}

func (p Piece) mass(index int, s float64) (float64, error) {
	if mu := p.Mu(s); mu >= 0 && !math.IsInf(mu, 0) {
		return mu, nil
	}
	return 0, fmt.Errorf("piece %d must not have a negative mass: %g kg/m at %g m", index, p.Mu(s), s)
}

// sumBeyond adds the mass up from the tip.
func (r *Rod) sumBeyond() {
	for e := len(r.elements) - 1; e >= 0; e-- {
		el := &r.elements[e]
		past := r.beyond[e+1] + r.mass[e+1]
		to, whole := integral(&el.mu)
		for j := range el.beyond {
			el.beyond[j] = past + el.h*(whole-to[j])
		}
		r.beyond[e] = past + el.h*whole
	}
}

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
