package pages

// spread moves places that rise apart until each is at least gap beyond the one
// before, as little as possible in the sum of squares, and keeps them between
// low and high as far as they fit. (Pool adjacent violators: Barlow,
// Bartholomew, Bremner and Brunk 1972, Statistical Inference under Order
// Restrictions, section 1.2, from memory.)
func spread(at []float64, gap, low, high float64) []float64 {
	type pool struct {
		mean float64
		n    int
	}
	var pools []pool
	for i, x := range at {
		pools = append(pools, pool{x - float64(i)*gap, 1})
		for k := len(pools) - 1; k > 0 && pools[k-1].mean > pools[k].mean; k-- {
			a, b := pools[k-1], pools[k]
			n := a.n + b.n
			pools[k-1] = pool{(a.mean*float64(a.n) + b.mean*float64(b.n)) / float64(n), n}
			pools = pools[:k]
		}
	}
	out := make([]float64, 0, len(at))
	last := high - float64(len(at)-1)*gap
	for _, p := range pools {
		mean := max(low, min(p.mean, last))
		for range p.n {
			out = append(out, mean+float64(len(out))*gap)
		}
	}
	return out
}

// apart moves labels that hang side by side apart, to so many letters from the
// middle of one to that of the next, or as far as there is room for in the
// picture. pitch is what it came to.
func (p Pen) apart(xs []float64, letters float64) (moved []float64, pitch float64) {
	edge := 0.7 * p.letters // half of a number of two digits
	pitch = min(letters*p.letters, (p.width-2*edge)/float64(max(1, len(xs)-1)))
	return spread(xs, pitch, edge, p.width-edge), pitch
}
