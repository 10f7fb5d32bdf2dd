package beam

// knotted is the second variation with a line: the tridiagonal part A of the
// rod and the loads within its elements, and the ties W of the line's chords,
//
//	H = A + W·Wᵀ,  H⁻¹ = A⁻¹ − A⁻¹W·S⁻¹·WᵀA⁻¹,  S = I + WᵀA⁻¹W
//
// (Sherman, Morrison and Woodbury; Hager 1989, SIAM Rev. 31:221, eq. 2).
// Eliminating either part first from the matrix of both leaves as many
// negative pivots, so H has as many negative eigenvalues as A less those of S
// (Haynsworth 1968, Linear Algebra Appl. 1:73).
type knotted struct {
	ties   []tie
	bent   []state   // A⁻¹W
	s      []float64 // S, row by row; overwritten by L under the diagonal, D on it
	answer []float64 // S⁻¹WᵀA⁻¹b
}

// factor works out S for the ties and the factored A, and gives the number of
// negative pivots in it.
func (k *knotted) factor(r *Rod, h *hessian, ties []tie) (negative int) {
	n := len(ties)
	k.ties = ties
	for len(k.bent) < n {
		k.bent = append(k.bent, newState(r))
	}
	if len(k.s) < n*n {
		k.s, k.answer = make([]float64, n*n), make([]float64, n)
	}
	for i, w := range ties {
		bent := k.bent[i]
		clear(bent.turn)
		clear(bent.bubble)
		copy(bent.turn[w.first:], w.w.turn)
		copy(bent.bubble[w.first:], w.w.bubble)
		h.solve(bent)
		for j := range i + 1 {
			k.s[i*n+j] = ties[j].dot(bent)
		}
		k.s[i*n+i]++
	}
	return k.eliminate(n)
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

// correct turns A⁻¹b into H⁻¹b.
func (k *knotted) correct(b state) {
	n := len(k.ties)
	y := k.answer[:n]
	for i := range n {
		y[i] = k.ties[i].dot(b)
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
	for i := range n {
		b.add(b, k.bent[i], -y[i])
	}
}

// dot is wᵀb.
func (w *tie) dot(b state) float64 {
	n := len(w.w.bubble)
	return w.w.dot(state{b.turn[w.first : w.first+n+1], b.bubble[w.first : w.first+n]})
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
