package beam

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// Mode is one way the rod swings on its own, about the straight position.
type Mode struct {
	Frequency float64   // Hz
	ModalMass float64   // ∫μφ² ds + ∑mφ² with φ = 1 at the tip, kg
	S         []float64 // m from the clamp, the nodes
	Shape     []float64 // φ at the nodes

	whole []float64 // φ as a deflection
}

const (
	// modeTolerance is the residual of an eigenvalue, as a share of it, at
	// which the vectors suffice. The error of the frequency is the square of
	// that over the gap to the next one (Parlett 1998, 10.5).
	modeTolerance = 1e-8
	// moreVectors are added when they do not suffice.
	moreVectors = 2
	// exhausted is the share of its length that a new vector keeps when there
	// are no more independent ones.
	exhausted = 1e-13
)

// Modes are the first n natural modes, lowest first: the clamped rod with its
// point masses; rotary inertia, own weight and damping are left out. Those of a rod
// that is like it and meshed alike, where they are given, lead to them sooner. It
// fails where the masses allow fewer modes than that.
func (r *Rod) Modes(n int, like ...Mode) ([]Mode, error) {
	if n < 1 || n > len(r.elements) {
		return nil, fmt.Errorf("a rod of %d elements has 1 to %d modes, not %d", len(r.elements), len(r.elements), n)
	}
	if !(r.Mass() > r.mass[0]) {
		return nil, errors.New("a rod needs mass away from the clamp to have modes")
	}
	k, wanted := newKrylov(r), 2*n+2
	if k.startFrom(like) {
		wanted = n + 2
	}
	for ; ; wanted += moreVectors {
		more := k.extend(wanted)
		values, vectors, ok := k.ritz(n)
		if ok {
			return k.modes(values, vectors, n), nil
		}
		if !more {
			return nil, fmt.Errorf("the rod's masses allow fewer than %d modes", n)
		}
	}
}

// krylov is the Lanczos process (1950, J. Res. NBS 45:255) on the flexibility,
// whose eigenvalues are 1/ω²: the lowest modes come first and far apart, so a
// dozen vectors give several. They are kept orthonormal in the mass by
// orthogonalising twice (Parlett 1998, The Symmetric Eigenvalue Problem, 6.9).
type krylov struct {
	flexibility
	vectors  [][]float64 // orthonormal in the mass
	momenta  [][]float64 // the same, weighted by the mass
	next     []float64   // square to the vectors, not yet normalised
	momentum []float64   // of next
	length   float64     // of next, in the mass
	diagonal []float64   // of the flexibility on the vectors, which is tridiagonal
	coupling []float64   // of each vector with the next: the length of what was next
}

func newKrylov(r *Rod) *krylov { return &krylov{flexibility: newFlexibility(r)} }

// startFrom begins with the sum of modes of a like rod or, where there are none on
// such a mesh, with the response to v = s², which no mode is square to.
func (k *krylov) startFrom(like []Mode) bool {
	r, start := k.rod, make([]float64, len(k.weight))
	for _, m := range like {
		if len(m.whole) == len(start) {
			k.next, k.momentum = start, make([]float64, len(start))
			floats.Add(start, m.whole)
		}
	}
	if k.next != nil {
		k.weigh()
		return true
	}
	nodes := k.nodes(start)
	for e := range r.elements {
		for j, at := range gaussAt {
			s := r.nodes[e] + at*r.elements[e].h
			start[points*e+j] = s * s
		}
		nodes[e+1] = r.nodes[e+1] * r.nodes[e+1]
	}
	k.respondTo(start)
	k.weigh()
	return false
}

// extend makes the basis that large, and says whether there are more vectors
// to have.
func (k *krylov) extend(wanted int) (more bool) {
	for len(k.vectors) < wanted {
		if len(k.vectors) > 0 {
			if !(k.length > exhausted*k.diagonal[0]) {
				return false
			}
			k.coupling = append(k.coupling, k.length)
		}
		floats.Scale(1/k.length, k.next)
		floats.Scale(1/k.length, k.momentum)
		k.vectors = append(k.vectors, k.next)
		k.momenta = append(k.momenta, k.momentum)
		k.advance()
	}
	return true
}

// advance works out the response to the last vector and takes out of it what
// the vectors span.
func (k *krylov) advance() {
	last := len(k.vectors) - 1
	k.respondTo(k.vectors[last])
	k.diagonal = append(k.diagonal, floats.Dot(k.momenta[last], k.next))
	for range 2 {
		for i, momentum := range k.momenta {
			floats.AddScaled(k.next, -floats.Dot(momentum, k.next), k.vectors[i])
		}
	}
	k.weigh()
}

// respondTo makes next the response to a deflection.
func (k *krylov) respondTo(v []float64) {
	k.next, k.momentum = make([]float64, len(v)), make([]float64, len(v))
	k.respond(v, k.next)
}

// weigh brings momentum and length up to date with next.
func (k *krylov) weigh() {
	floats.MulTo(k.momentum, k.next, k.weight)
	k.length = math.Sqrt(floats.Dot(k.next, k.momentum))
}

// ritz gives the eigenvalues of the flexibility on the vectors, ascending, and
// the eigenvectors; ok says whether the n largest are accurate enough.
func (k *krylov) ritz(n int) (values []float64, vectors *mat.Dense, ok bool) {
	m := len(k.vectors)
	if m < n {
		return nil, nil, false
	}
	projection := mat.NewSymDense(m, nil)
	for i, v := range k.diagonal {
		projection.SetSym(i, i, v)
		if i > 0 {
			projection.SetSym(i-1, i, k.coupling[i-1])
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(projection, true) {
		return nil, nil, false
	}
	values, vectors = eigen.Values(nil), new(mat.Dense)
	eigen.VectorsTo(vectors)
	for i := m - n; i < m; i++ {
		if !(k.length*math.Abs(vectors.At(m-1, i)) <= modeTolerance*values[i]) {
			return nil, nil, false
		}
	}
	return values, vectors, true
}

// modes turns the n largest eigenvalues into modes. The vectors have unit
// mass, so a shape with φ = 1 at the tip has the mass 1/tip².
func (k *krylov) modes(values []float64, vectors *mat.Dense, n int) []Mode {
	modes := make([]Mode, n)
	for i := range modes {
		column := len(values) - 1 - i
		whole := make([]float64, len(k.weight))
		for j, v := range k.vectors {
			floats.AddScaled(whole, vectors.At(j, column), v)
		}
		tip := whole[len(whole)-1]
		floats.Scale(1/tip, whole)
		modes[i] = Mode{
			Frequency: 1 / (2 * math.Pi * math.Sqrt(values[column])),
			ModalMass: 1 / (tip * tip), S: k.rod.Nodes(), Shape: k.nodes(whole), whole: whole,
		}
	}
	return modes
}
