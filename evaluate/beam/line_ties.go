package beam

// knotted is the second variation with a line: the tridiagonal part A = LDLᵀ of
// the rod and the loads within its elements, and the ties W of the line's
// chords,
//
//	H = A + W·Wᵀ,  H⁻¹ = A⁻¹ − A⁻¹W·S⁻¹·WᵀA⁻¹,  S = I + WᵀA⁻¹W
//
// (Sherman, Morrison and Woodbury; Hager 1989, SIAM Rev. 31:221, eq. 2).
// Whichever of A and S is eliminated first from the matrix of both, there are
// as many negative pivots; so H has as many negative eigenvalues as A has less
// those of S (Haynsworth 1968, Linear Algebra Appl. 1:73).
type knotted struct {
	ties   []tie
	halves []state   // L⁻¹W, nothing before a tie's first element
	s      []float64 // S, row by row; overwritten by its own L under the diagonal and D on it
	answer []float64 // S⁻¹WᵀA⁻¹b
}

// factor works out S for the ties and the factored A, and gives the number of
// negative pivots in it.
func (k *knotted) factor(r *Rod, h *hessian, ties []tie) (negative int) {
	n := len(ties)
	k.ties = ties
	for len(k.halves) < n {
		k.halves = append(k.halves, newState(r))
	}
	if len(k.s) < n*n {
		k.s, k.answer = make([]float64, n*n), make([]float64, n)
	}
	for i, t := range ties {
		half := k.halves[i]
		clear(half.turn[t.first:])
		clear(half.bubble[t.first:])
		copy(half.turn[t.first:], t.w.turn)
		copy(half.bubble[t.first:], t.w.bubble)
		h.forward(half, t.first)
		k.s[i*n+i] = 1 + h.product(half, half, t.first)
		after := h.solution(half, t.first+1)
		for j := range i {
			k.s[i*n+j] = h.productAt(k.halves[j], half, t.first) + k.halves[j].turn[t.first+1]*after
		}
	}
	return k.eliminate(n)
}

// solution is A⁻¹b at one node, given L⁻¹b. A tie ends where the next begins or
// in the same element; beyond, its half is but handed on from node to node, as
// in back substitution. So all that it shares with the half of a later tie
// beyond a node is its value there times the later one's solution.
func (h *hessian) solution(half state, node int) float64 {
	last := len(half.turn) - 1
	x := half.turn[last] * h.inverse[last]
	for i := last - 1; i >= node; i-- {
		x = half.turn[i]*h.inverse[i] - h.coupling[i]*x
	}
	return x
}

// productAt is the part of aᵀD⁻¹b of an element's start and bubble.
func (h *hessian) productAt(a, b state, e int) float64 {
	return a.turn[e]*b.turn[e]*h.inverse[e] + a.bubble[e]*b.bubble[e]*h.bubble[e]
}

// product is aᵀD⁻¹b, where one of them has nothing before the first element.
func (h *hessian) product(a, b state, first int) float64 {
	sum := 0.0
	for i := max(first, 1); i < len(a.turn); i++ {
		sum += a.turn[i] * b.turn[i] * h.inverse[i]
	}
	for e := first; e < len(a.bubble); e++ {
		sum += a.bubble[e] * b.bubble[e] * h.bubble[e]
	}
	return sum
}

// eliminate overwrites S with its factors LDLᵀ.
func (k *knotted) eliminate(n int) (negative int) {
	for i := range n {
		row := k.s[i*n : i*n+i+1]
		for j := range i {
			for m := range j {
				row[j] -= row[m] * k.s[j*n+m]
			}
		}
		for j := range i {
			scaled := row[j] / k.s[j*n+j]
			row[i] -= scaled * row[j]
			row[j] = scaled
		}
		if !(row[i] > 0) {
			negative++
		}
	}
	return negative
}

// solve overwrites the right-hand side b with the solution.
func (k *knotted) solve(h *hessian, b state) {
	h.forward(b, 0)
	n := len(k.ties)
	y := k.answer[:n]
	for i := range n {
		y[i] = h.product(k.halves[i], b, k.ties[i].first)
		for j := range i {
			y[i] -= k.s[i*n+j] * y[j]
		}
	}
	for i := n - 1; i >= 0; i-- {
		y[i] /= k.s[i*n+i]
		for j := i + 1; j < n; j++ {
			y[i] -= k.s[j*n+i] * y[j]
		}
	}
	for i, t := range k.ties {
		for j := t.first; j < len(b.bubble); j++ {
			b.turn[j+1] -= y[i] * k.halves[i].turn[j+1]
			b.bubble[j] -= y[i] * k.halves[i].bubble[j]
		}
		b.turn[t.first] -= y[i] * k.halves[i].turn[t.first]
	}
	h.back(b)
}

// negative is the number of negative pivots.
func (h *hessian) negative() int {
	n := 0
	for _, v := range h.pivot[1:] {
		if !(v > 0) {
			n++
		}
	}
	for _, v := range h.bubble {
		if !(v > 0) {
			n++
		}
	}
	return n
}
