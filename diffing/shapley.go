package diffing

import (
	"context"
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"

	"rodlore/evaluate"
)

// game is a cooperative game played for several quantities at once. What each
// of its players brings is their Shapley value (Shapley 1953, A value for
// n-person games, in Contributions to the Theory of Games II, 307): what adding
// the player to those who came before changes, on average over all orders of
// coming. The values add up to the worth of all less that of none.
type game struct {
	players int
	// worth of a coalition, by player who is in it and who not; NaN is none. It
	// is called concurrently and may not keep its argument.
	worth func(coalition []bool) ([]float64, error)
}

// exact gives the values by player and quantity from the worth of all 2ⁿ
// coalitions. A quantity that one of them lacks has the value NaN.
func (g game) exact(ctx context.Context) ([][]float64, error) {
	n := g.players
	worths, err := inParallel(ctx, 1<<n, func(set int) ([]float64, error) {
		coalition := make([]bool, n)
		for i := range coalition {
			coalition[i] = set>>i&1 == 1
		}
		return g.worth(coalition)
	})
	if err != nil {
		return nil, err
	}
	values := make([][]float64, n)
	for i := range values {
		values[i] = g.mean(worths, i)
	}
	return values, nil
}

// mean gives one player's values: the mean over s of what joining changes on
// average over all sets of s others. Averages of equal numbers are exact, so
// that a player who brings one thing whoever is there brings exactly 1.
func (g game) mean(worths [][]float64, player int) []float64 {
	sums := make([][]float64, g.players) // by number of others
	for s := range sums {
		sums[s] = make([]float64, len(worths[0]))
	}
	for set, without := range worths {
		if set>>player&1 == 1 {
			continue
		}
		sum, with := sums[bits.OnesCount(uint(set))], worths[set|1<<player]
		for k := range sum {
			sum[k] += with[k] - without[k]
		}
	}
	values := make([]float64, len(worths[0]))
	sets := 1.0 // of s others
	for s, sum := range sums {
		for k, v := range sum {
			values[k] += v / sets
		}
		sets *= float64(g.players-1-s) / float64(s+1)
	}
	for k := range values {
		values[k] /= float64(g.players)
	}
	return values
}

// sampled estimates the values from pairs of an order drawn at random and its
// reverse, whose errors partly cancel, and gives the standard errors too
// (Castro, Gómez and Tejada 2009, Computers and Operations Research 36:1726,
// for single orders). Each order adds up to the whole, so the values do.
func (g game) sampled(ctx context.Context, pairs int, random *rand.Rand) (values, off [][]float64, err error) {
	orders := make([][]int, pairs)
	for i := range orders {
		orders[i] = random.Perm(g.players)
	}
	samples, err := inParallel(ctx, pairs, func(i int) ([][]float64, error) { return g.thereAndBack(orders[i]) })
	if err != nil {
		return nil, nil, err
	}
	values, off = make([][]float64, g.players), make([][]float64, g.players)
	for i := range g.players {
		for k := range samples[0][i] {
			mean, standardError := estimate(samples, i, k)
			values[i], off[i] = append(values[i], mean), append(off[i], standardError)
		}
	}
	return values, off, nil
}

// thereAndBack is the mean of what each player changes in one order and in its
// reverse.
func (g game) thereAndBack(order []int) ([][]float64, error) {
	sum, err := g.walk(order)
	if err != nil {
		return nil, err
	}
	back := slices.Clone(order)
	slices.Reverse(back)
	other, err := g.walk(back)
	for i := range other {
		for k := range other[i] {
			sum[i][k] = (sum[i][k] + other[i][k]) / 2
		}
	}
	return sum, err
}

// walk gives what each player changes when they come in that order.
func (g game) walk(order []int) ([][]float64, error) {
	coalition := make([]bool, g.players)
	before, err := g.worth(coalition)
	if err != nil {
		return nil, err
	}
	changes := make([][]float64, g.players)
	for _, player := range order {
		coalition[player] = true
		after, err := g.worth(coalition)
		if err != nil {
			return nil, err
		}
		for k := range after {
			changes[player] = append(changes[player], after[k]-before[k])
		}
		before = after
	}
	return changes, nil
}

// estimate is the mean over the samples of one player's change of one quantity,
// and its standard error.
func estimate(samples [][][]float64, player, quantity int) (mean, standardError float64) {
	n := float64(len(samples))
	for _, s := range samples {
		mean += s[player][quantity] / n
	}
	var squares float64
	for _, s := range samples {
		d := s[player][quantity] - mean
		squares += d * d
	}
	return mean, math.Sqrt(squares / (n - 1) / n)
}

// inParallel does n things on every processor and gives what came of each, or
// the error of the first that has one.
func inParallel[T any](ctx context.Context, n int, do func(int) (T, error)) ([]T, error) {
	results, errs := make([]T, n), make([]error, n)
	if err := evaluate.InParallel(ctx, n, func(i int) { results[i], errs[i] = do(i) }); err != nil {
		return nil, err
	}
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return results, nil
}
