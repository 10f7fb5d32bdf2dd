package beam

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

func TestExplore(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	count := map[string]int{}
	maxIt := map[string]int{}
	for k := 0; k < 60000; k++ {
		c := 0.03 + 0.97*rng.Float64()
		ei := func(s float64) float64 { return math.Pow(1-(1-c)*s, 3+rng.Float64()*0) }
		cut := 0.2 + 0.6*rng.Float64()
		jump := 1 + rng.Float64()
		mu := 0.5 * rng.Float64()
		pieces := []Piece{{0, cut, func(s float64) float64 { return jump * ei(s) }, func(s float64) float64 { return mu }}, {cut, 1, ei, func(s float64) float64 { return mu }}}
		off := 0.0
		tipoff := 0.0
		if rng.IntN(2) == 0 {
			off = 0.02 * (2*rng.Float64() - 1)
			tipoff = 0.01 * (2*rng.Float64() - 1)
		}
		masses := []PointMass{{rng.Float64(), 0.1 * rng.Float64(), off}, {1, 0.02, off}}
		r, err := NewRod(pieces, masses, 20+rng.IntN(80))
		if err != nil {
			t.Fatal(err)
		}
		a := rng.Float64() * math.Pi
		soft := 1 / r.TipStiffness()
		p := math.Exp(rng.Float64()*8-3) / soft
		l := Load{Force: p, Direction: a, Weight: rng.IntN(2) == 0, Offset: tipoff}
		s := NewSolver(r)
		was := risen
		sh, err := s.Bend(l)
		if risen > was {
			fmt.Println("RISE", l, c, cut, jump, mu, masses, len(r.elements), sh.Tip())
		}
		key := fmt.Sprintf("bend off %v w %v", off != 0, l.Weight)
		var f *Failure
		if errors.As(err, &f) {
			count[key+" "+f.Status.String()]++
			if count[key+" "+f.Status.String()] < 4 {
				fmt.Println(key, err, "P/k", p*soft, "c", c, "n", len(r.elements))
			}
			continue
		}
		count[key+" ok"]++
		maxIt[key] = max(maxIt[key], sh.Iterations)
		if sh.Iterations > 25 && rng.IntN(20) == 0 {
			fmt.Println("many", sh.Iterations, l, "P/k", p*soft, "c", c)
		}
		// target
		s2 := NewSolver(r)
		sh2, err := s2.BendToTurn(l, sh.Tip().Turn)
		if math.Abs(sh.Tip().Turn-a) < .01 || l.Weight && math.Abs(sh.Tip().Turn-math.Pi/2) < 0.01 {
			continue
		}
		key = "turn" + key[4:]
		if errors.As(err, &f) {
			count[key+" "+f.Status.String()]++
			if count[key+" "+f.Status.String()] < 3 {
				fmt.Println(key, err, "true P", p, "P/k", p*soft, "c", c, "n", len(r.elements))
			}
		} else {
			count[key+" ok"]++
			if x := math.Log(sh2.Load.Force / p); x > 1e-6 {
				count[key+" LARGER"]++
				if count[key+" LARGER"] < 4 {
					fmt.Println(key, "larger", sh2.Load, p, sh.Tip(), x)
				}
			} else if x < -1e-6 {
				count[key+" other force"]++
			}
			maxIt[key] = max(maxIt[key], sh2.Iterations)
		}
		sh2, err = s2.BendToDrop(l, sh.Tip().Y)
		key = "drop" + key[4:]
		if errors.As(err, &f) {
			count[key+" "+f.Status.String()]++
			if count[key+" "+f.Status.String()] < 3 {
				fmt.Println(key, err, "true P", p, "P/k", p*soft, "c", c, "n", len(r.elements))
			}
		} else {
			count[key+" ok"]++
			if x := math.Log(sh2.Load.Force / p); x > 1e-6 {
				count[key+" LARGER"]++
				if count[key+" LARGER"] < 4 {
					fmt.Println(key, "larger", sh2.Load, p, sh.Tip(), x)
				}
			} else if x < -1e-6 {
				count[key+" other force"]++
			}
			maxIt[key] = max(maxIt[key], sh2.Iterations)
		}
	}
	for k, v := range count {
		fmt.Println(k, v)
	}
	fmt.Println(maxIt, rises, risen)
}
