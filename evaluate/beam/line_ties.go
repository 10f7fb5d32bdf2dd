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
		for j := range i + 1 { // no later tie begins before another
			k.s[i*n+j] = h.product(k.halves[j], half, t.first)
		}
		k.s[i*n+i]++
	}
	return k.eliminate(n)
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
