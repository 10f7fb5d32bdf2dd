package beam

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Mode is one way the rod swings on its own, about the straight position.
type Mode struct {
	Frequency float64   // Hz
	ModalMass float64   // ∫μφ² ds + ∑mφ² with φ = 1 at the tip, kg
	S         []float64 // m from the clamp, the nodes
	Shape     []float64 // φ at the nodes
}

const (
	// modeTolerance is the residual of an eigenvalue, as a share of it, at
	// which the vectors suffice; the error of the frequency is about the
	// square of it over the gap to its neighbours.
	modeTolerance = 1e-8
	// moreVectors are added when they do not suffice yet.
	moreVectors = 4
)

// Modes are the first n natural modes, lowest first: the clamped rod with its
// point masses, rotary inertia, weight and damping left out.
func (r *Rod) Modes(n int) ([]Mode, error) {
	if n < 1 || n > len(r.elements) {
		return nil, fmt.Errorf("a rod of %d elements has 1 to %d modes, not %d", len(r.elements), len(r.elements), n)
	}
	if !(r.Mass() > r.mass[0]) {
		return nil, errors.New("a rod needs mass away from the clamp to have modes")
	}
	k := newKrylov(r)
	for wanted := 2*n + 6; ; wanted += moreVectors {
		complete := k.extend(wanted)
		if values, vectors, ok := k.ritz(n); ok || complete {
			return k.modes(values, vectors, n)
		}
	}
}

// field is a deflection at the Gauss points and nodes, where all masses are.
type field struct {
	inside [][points]float64
	node   []float64
}

func newField(r *Rod) field {
	return field{make([][points]float64, len(r.elements)), make([]float64, len(r.nodes))}
}

// krylov is the Lanczos process (1950, J. Res. NBS 45:255) on the flexibility
// operator: from a deflection v to the one that the inertia forces μv and mv
// bend the rod to. Its eigenvalues are 1/ω², the lowest modes first and far
// apart, so a dozen vectors give several modes. The vectors are kept
// orthonormal in the mass by orthogonalising twice (Parlett 1998, The
// Symmetric Eigenvalue Problem, 6.9).
type krylov struct {
	rod     *Rod
	vectors []field
	next    field       // not yet normalised
	proj    [][]float64 // of the operator on the vectors
	rest    float64     // norm of next
}

func newKrylov(r *Rod) *krylov {
	k := &krylov{rod: r, next: newField(r)}
	start := newField(r)
	for e := range r.elements { // a deflection that no mode is square to
		for j, at := range gaussAt {
			s := r.nodes[e] + at*r.elements[e].h
			start.inside[e][j] = s * s
		}
		start.node[e+1] = r.nodes[e+1] * r.nodes[e+1]
	}
	k.respond(start, k.next)
	k.rest = math.Sqrt(k.product(k.next, k.next))
	return k
}

// extend makes the basis that large; complete says that there are no more
// vectors to have.
func (k *krylov) extend(wanted int) (complete bool) {
	first := k.rest
	for len(k.vectors) < wanted {
		if len(k.vectors) > 0 && !(k.rest > 1e-13*k.scale()) || first == 0 {
			return true
		}
		v := k.next
		scaleField(v, 1/k.rest)
		k.vectors = append(k.vectors, v)
		k.next = newField(k.rod)
		k.respond(v, k.next)
		row := make([]float64, len(k.vectors))
		for range 2 {
			for i, u := range k.vectors {
				c := k.product(u, k.next)
				row[i] += c
				addField(k.next, u, -c)
			}
		}
		k.proj = append(k.proj, row)
		k.rest = math.Sqrt(k.product(k.next, k.next))
	}
	return false
}

// scale is the size of the operator, by its first diagonal entry.
func (k *krylov) scale() float64 { return k.proj[0][0] }

// ritz gives the eigenvalues of the projection, ascending, and its vectors; ok
// says whether the n largest are accurate enough.
func (k *krylov) ritz(n int) (values []float64, vectors *mat.Dense, ok bool) {
	m := len(k.vectors)
	proj := mat.NewSymDense(m, nil)
	for i, row := range k.proj {
		for j, v := range row {
			if j >= i-1 {
				proj.SetSym(j, i, v)
			}
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(proj, true) {
		return nil, nil, false
	}
	values = eigen.Values(nil)
	vectors = new(mat.Dense)
	eigen.VectorsTo(vectors)
	if m < n {
		return values, vectors, false
	}
	for i := m - n; i < m; i++ {
		if math.Abs(k.rest*vectors.At(m-1, i)) > modeTolerance*values[i] {
			return values, vectors, false
		}
	}
	return values, vectors, true
}

// modes turns the n largest eigenvalues into modes.
func (k *krylov) modes(values []float64, vectors *mat.Dense, n int) ([]Mode, error) {
	if len(values) < n || !(values[len(values)-n] > 0) {
		return nil, fmt.Errorf("the rod's masses allow fewer than %d modes", n)
	}
	modes := make([]Mode, n)
	for i := range modes {
		column := len(values) - 1 - i
		shape := make([]float64, len(k.rod.nodes))
		for j, v := range k.vectors {
			c := vectors.At(j, column)
			for node, w := range v.node {
				shape[node] += c * w
			}
		}
		tip := shape[len(shape)-1] // in a basis of unit mass, φ scaled to 1 weighs 1/tip²
		for node := range shape {
			shape[node] /= tip
		}
		modes[i] = Mode{
			Frequency: 1 / (2 * math.Pi * math.Sqrt(values[column])),
			ModalMass: 1 / (tip * tip), S: k.rod.Nodes(), Shape: shape,
		}
	}
	return modes, nil
}
