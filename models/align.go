package models

import "slices"

// Match is two entries of an old and a new list that are the same thing, by index;
// −1 where one of the lists has it not.
type Match struct{ Old, New int }

// Align pairs the entries of two ordered lists at the least total cost, where an
// entry left alone costs 1, keeping the order of both (Needleman and Wunsch 1970,
// J. Mol. Biol. 48:443, with costs for scores).
func Align(old, now int, cost func(i, j int) float64) []Match {
	best := make([][]float64, old+1)
	for i := range best {
		best[i] = make([]float64, now+1)
		for j := range best[i] {
			switch {
			case i == 0 || j == 0:
				best[i][j] = float64(i + j)
			default:
				best[i][j] = min(best[i-1][j-1]+cost(i-1, j-1), best[i-1][j]+1, best[i][j-1]+1)
			}
		}
	}
	var pairs []Match
	for i, j := old, now; i > 0 || j > 0; {
		switch {
		case i > 0 && j > 0 && best[i][j] == best[i-1][j-1]+cost(i-1, j-1):
			i, j = i-1, j-1
			pairs = append(pairs, Match{i, j})
		case i > 0 && best[i][j] == best[i-1][j]+1:
			i--
			pairs = append(pairs, Match{i, -1})
		default:
			j--
			pairs = append(pairs, Match{-1, j})
		}
	}
	slices.Reverse(pairs)
	return pairs
}
