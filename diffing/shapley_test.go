package diffing

import (
	"context"
	"errors"
	"math"
	"math/bits"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// tabled is a game of one quantity, given by what each set of players is worth.
func tabled(players int, worth func(set int) float64) game {
	return game{players, func(coalition []bool) ([]float64, error) {
		set := 0
		for i, in := range coalition {
			if in {
				set |= 1 << i
			}
		}
		return []float64{worth(set)}, nil
	}}
}

// fataler is a test or one run of a property.
type fataler interface{ Fatal(...any) }

// values gives the exact values of a game of one quantity.
func values(t fataler, g game) []float64 {
	all, err := g.exact(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	list := make([]float64, len(all))
	for i, v := range all {
		list[i] = v[0]
	}
	return list
}

// longest is the airport game: a runway for a set of aircraft costs what the
// most demanding of them needs.
func longest(costs ...float64) game {
	return tabled(len(costs), func(set int) float64 {
		worth := 0.0
		for i, c := range costs {
			if set>>i&1 == 1 {
				worth = max(worth, c)
			}
		}
		return worth
	})
}

// gloves is the glove game: players of the first kind have a left glove each,
// the others a right one, and a pair is worth 1.
func gloves(left, right int) game {
	return tabled(left+right, func(set int) float64 {
		l := bits.OnesCount(uint(set & (1<<left - 1)))
		return float64(min(l, bits.OnesCount(uint(set))-l))
	})
}

// council is the vote in the Security Council of the United Nations: nine of
// fifteen, with all five permanent members, the first here.
func council() game {
	return tabled(15, func(set int) float64 {
		if set&31 == 31 && bits.OnesCount(uint(set)) >= 9 {
			return 1
		}
		return 0
	})
}

func TestShapleyPublished(t *testing.T) {
	for _, tt := range []struct {
		name   string
		game   game
		want   []float64
		source string
	}{
		{"airport", longest(8, 11, 13, 18), []float64{2, 3, 4, 9},
			"Wikipedia, Airport problem, after Littlechild and Owen 1973, Management Science 20:370"},
		{"inheritance", longest(120, 60, 40, 30), []float64{80 + 5./6, 20 + 5./6, 10 + 5./6, 7.5},
			"Ibn Ezra 1146, by Aumann 2010, Int. J. Game Theory 39:3; values to five decimals in the manual of the R package CoopGame, shapleyValue"},
		{"two left gloves and a right one", gloves(2, 1), []float64{1. / 6, 1. / 6, 2. / 3},
			"Wiese, p. 65, in the tests of the R package CoopGame, check 15.4"},
		{"nine left gloves and a right one", gloves(9, 1),
			[]float64{1. / 90, 1. / 90, 1. / 90, 1. / 90, 1. / 90, 1. / 90, 1. / 90, 1. / 90, 1. / 90, 9. / 10},
			"tests of the R package CoopGame, check 15.3"},
		{"bargain", tabled(3, func(set int) float64 { return []float64{0, 2, 4, 18, 5, 14, 9, 24}[set] }), []float64{9.5, 8, 6.5},
			"tests of the R package CoopGame, check 15.1"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			for i, got := range values(t, tt.game) {
				// Only rounding of sums of a few dozen terms.
				if math.Abs(got-tt.want[i]) > 1e-12*tt.want[i] {
					t.Errorf("player %d: %v, want %v (%s)", i+1, got, tt.want[i], tt.source)
				}
			}
		})
	}
}

// drawn is a game of random worths, of 1 to 7 players.
func drawn(t *rapid.T) (players int, worth []float64) {
	players = rapid.IntRange(1, 7).Draw(t, "players")
	return players, rapid.SliceOfN(rapid.Float64Range(-100, 100), 1<<players, 1<<players).Draw(t, "worth")
}

func of(players int, worth []float64) game {
	return tabled(players, func(set int) float64 { return worth[set] })
}

// alike allows for the rounding of sums of up to 128 worths of up to 100.
func alike(a, b float64) bool { return math.Abs(a-b) <= 1e-11 }

// TestShapleyAxioms holds the four properties that no other way to share has
// (Shapley 1953), and that the value is the mean over all orders.
func TestShapleyAxioms(t *testing.T) {
	t.Run("efficiency: the values add up to the whole", rapid.MakeCheck(func(t *rapid.T) {
		n, worth := drawn(t)
		sum := 0.0
		for _, v := range values(t, of(n, worth)) {
			sum += v
		}
		if whole := worth[1<<n-1] - worth[0]; !alike(sum, whole) {
			t.Fatalf("sum %v, whole %v", sum, whole)
		}
	}))
	t.Run("symmetry: players who change the same get the same", rapid.MakeCheck(func(t *rapid.T) {
		n, worth := drawn(t)
		i, j := rapid.IntRange(0, n-1).Draw(t, "i"), rapid.IntRange(0, n-1).Draw(t, "j")
		v := values(t, tabled(n, func(set int) float64 { return worth[set] + worth[swapped(set, i, j)] }))
		if !alike(v[i], v[j]) {
			t.Fatalf("%v and %v", v[i], v[j])
		}
	}))
	t.Run("null player: who changes nothing gets nothing", rapid.MakeCheck(func(t *rapid.T) {
		n, worth := drawn(t)
		i := rapid.IntRange(0, n-1).Draw(t, "i")
		if v := values(t, tabled(n, func(set int) float64 { return worth[set&^(1<<i)] })); v[i] != 0 {
			t.Fatalf("%v", v[i])
		}
	}))
	t.Run("additivity: the values of a sum are the sums of the values", rapid.MakeCheck(func(t *rapid.T) {
		n, one := drawn(t)
		two := rapid.SliceOfN(rapid.Float64Range(-100, 100), 1<<n, 1<<n).Draw(t, "other worth")
		a, b := values(t, of(n, one)), values(t, of(n, two))
		for i, v := range values(t, tabled(n, func(set int) float64 { return one[set] + two[set] })) {
			if !alike(v, a[i]+b[i]) {
				t.Fatalf("player %d: %v, not %v + %v", i, v, a[i], b[i])
			}
		}
	}))
	t.Run("order: who stands where makes no difference", rapid.MakeCheck(func(t *rapid.T) {
		n, worth := drawn(t)
		i, j := rapid.IntRange(0, n-1).Draw(t, "i"), rapid.IntRange(0, n-1).Draw(t, "j")
		v := values(t, of(n, worth))
		w := values(t, tabled(n, func(set int) float64 { return worth[swapped(set, i, j)] }))
		if v[i], v[j] = v[j], v[i]; !allAlike(v, w) {
			t.Fatalf("%v and %v", v, w)
		}
	}))
	t.Run("mean over all orders", rapid.MakeCheck(func(t *rapid.T) {
		n, worth := drawn(t)
		n = min(n, 5)
		if v, w := values(t, of(n, worth)), overAllOrders(t, of(n, worth)); !allAlike(v, w) {
			t.Fatalf("%v and %v", v, w)
		}
	}))
}

func allAlike(a, b []float64) bool {
	for i := range a {
		if !alike(a[i], b[i]) {
			return false
		}
	}
	return true
}

// swapped is a set with two players in each other's place.
func swapped(set, i, j int) int {
	if set>>i&1 != set>>j&1 {
		set ^= 1<<i | 1<<j
	}
	return set
}

// overAllOrders is the value by its definition.
func overAllOrders(t fataler, g game) []float64 {
	sum, orders := make([]float64, g.players), 0.0
	var come func(order, rest []int)
	come = func(order, rest []int) {
		if len(rest) == 0 {
			changes, err := g.walk(order)
			if err != nil {
				t.Fatal(err)
			}
			for i, c := range changes {
				sum[i] += c[0]
			}
			orders++
		}
		for i, player := range rest {
			others := append(append([]int{}, rest[:i]...), rest[i+1:]...)
			come(append(order, player), others)
		}
	}
	all := make([]int, g.players)
	for i := range all {
		all[i] = i
	}
	come(nil, all)
	for i := range sum {
		sum[i] /= orders
	}
	return sum
}

// TestSampledCouncil holds the estimate against power in a council of fifteen:
// 421/2145 for a permanent member and 4/2145 for another (Shapley and Shubik
// 1954, Am. Political Sci. Rev. 48:787, have the way; the fractions for today's
// council are textbook, as in gonitsora.com, Veto).
func TestSampledCouncil(t *testing.T) {
	got, errs, err := council().sampled(context.Background(), 4000, rand.New(rand.NewPCG(5, 6)))
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for i := range got {
		want := 4. / 2145
		if i < 5 {
			want = 421. / 2145
		}
		// Four standard errors: one in 16,000 misses by that much.
		if d := math.Abs(got[i][0] - want); d > 4*errs[i][0] || errs[i][0] > 0.01 {
			t.Errorf("member %d: %v ± %v, want %v", i+1, got[i][0], errs[i][0], want)
		}
		sum += got[i][0]
	}
	if !alike(sum, 1) {
		t.Errorf("the members have %v of the power", sum)
	}
}

// TestSampledErrors counts how often the exact value lies within two of the
// standard errors stated: about 19 times in 20.
func TestSampledErrors(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	const players, runs, pairs = 7, 300, 40
	worth := make([]float64, 1<<players)
	for i := range worth {
		worth[i] = random.NormFloat64()
	}
	g := of(players, worth)
	exact := values(t, g)
	for i := range players {
		within := 0
		for range runs {
			got, errs, err := g.sampled(context.Background(), pairs, random)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got[i][0]-exact[i]) <= 2*errs[i][0] {
				within++
			}
		}
		// Student's t with 39 degrees of freedom puts 94.8 % within two; three
		// and a half standard deviations of the count either way.
		if p := float64(within) / runs; math.Abs(p-0.948) > 3.5*math.Sqrt(0.948*0.052/runs) {
			t.Errorf("player %d: the exact value is within two standard errors in %.1f %% of runs", i, 100*p)
		}
	}
}

// TestSampledPairs plays a game in which players work on each other two by two.
// In an order and its reverse each of two comes first once, so that every pair
// of orders gives the exact values.
func TestSampledPairs(t *testing.T) {
	const players = 12
	random := rand.New(rand.NewPCG(9, 10))
	var together [players][players]float64
	want := make([]float64, players)
	for i := range players {
		for j := range i + 1 {
			v := random.NormFloat64()
			together[i][j] = v
			want[i] += v / 2
			want[j] += v / 2
		}
	}
	g := tabled(players, func(set int) float64 {
		worth := 0.0
		for i := range players {
			for j := range i + 1 {
				if set>>i&1 == 1 && set>>j&1 == 1 {
					worth += together[i][j]
				}
			}
		}
		return worth
	})
	got, errs, err := g.sampled(context.Background(), 3, random)
	if err != nil {
		t.Fatal(err)
	}
	for i := range got {
		if !alike(got[i][0], want[i]) || !alike(errs[i][0], 0) {
			t.Errorf("player %d: %v ± %v, want %v", i, got[i][0], errs[i][0], want[i])
		}
	}
}

func TestWorthMissing(t *testing.T) {
	hole := game{3, func(c []bool) ([]float64, error) {
		if c[0] && !c[1] && !c[2] {
			return []float64{1, math.NaN()}, nil
		}
		return []float64{1, 1}, nil
	}}
	got, err := hole.exact(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range got {
		if v[0] != 0 || !math.IsNaN(v[1]) {
			t.Errorf("player %d has %v, want 0 of the first quantity and no value of the second", i, v)
		}
	}
}

func TestWorthFails(t *testing.T) {
	broken := errors.New("broken")
	g := game{4, func(c []bool) ([]float64, error) {
		if c[0] && c[2] && !c[1] {
			return nil, broken
		}
		return []float64{0}, nil
	}}
	if _, err := g.exact(context.Background()); !errors.Is(err, broken) {
		t.Errorf("exact: error %v", err)
	}
	if _, _, err := g.sampled(context.Background(), 20, rand.New(rand.NewPCG(1, 2))); !errors.Is(err, broken) {
		t.Errorf("sampled: error %v", err)
	}
}
