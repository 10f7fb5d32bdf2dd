package diffing

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// noticing are settings in which an angler notices so much of a weight.
func noticing(kg float64) *models.Settings {
	return &models.Settings{Noticed: map[string]figures.Noticed{"weight": {Absolute: kg}}}
}

// TestAnswer holds the three answers, on rods that differ by an own error of 1, of
// figures that are known to 0.1 each.
func TestAnswer(t *testing.T) {
	for _, tc := range []struct {
		name            string
		change, noticed float64
		want            Answer
		byDesign        bool
	}{
		{"real", 2.3, 9, Changed, false},
		{"real and far beyond what is noticed", 20, 5, Changed, false},
		{"the interval within what is noticed", 0.5, 2.71, Same, false},
		{"the interval within it but for its error", 0.5, 2.69, Open, false},
		{"no change, and an interval too wide", 0, 2, Open, false},
		{"no change, and an interval that fits", 0, 2.21, Same, false},
		{"down, within", -0.5, 2.71, Same, false},
		{"down, beyond", -0.5, 2.69, Open, false},
		{"by design", 1.3, 1, Changed, true},
		{"by design down", -1.3, 1, Changed, true},
		{"by design within the error", 1.1, 1, Open, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			old := side(10, map[string]float64{"both": 3})
			s := Figures(old, side(10+tc.change, map[string]float64{"both": 3, "own": 1}), noticing(tc.noticed))[0]
			if got := s.Answer(); got != tc.want || s.ByDesign() != tc.byDesign {
				t.Errorf("%q, by design %v", got, s.ByDesign())
			}
		})
	}
	old := side(10, map[string]float64{"both": 3})
	if got := Figures(old, old, noticing(1e-9))[0].Answer(); got != Same {
		t.Errorf("a rod beside itself: %q", got)
	}
	if got := Figures(old, listed("m/1"), nil)[0].Answer(); got != "" {
		t.Errorf("a figure that is gone: %q", got)
	}
	alone := listed("m/1", evaluate.Figure{Key: "weight", Value: 10, Unit: "kg", Tolerance: math.NaN()})
	if got := Figures(alone, alone, noticing(100))[0].Answer(); got != Open {
		t.Errorf("without tolerances: %q", got)
	}
}

// TestEquivalent holds the two one-sided tests against a worked example: Moery and
// Calin-Jageman 2016, Social Psychological and Personality Science 7:312, study 2,
// as worked in the vignette of the R package TOSTER (Lakens 2017, ibid. 8:355).
// Means 5.25 and 5.22, deviations 0.95 and 0.83, of 95 and 89; equal variances;
// bounds ±0.384: t(182) = −2.69, p = 0.004, so the two are equivalent.
func TestEquivalent(t *testing.T) {
	const n1, n2, bound = 95.0, 89.0, 0.384
	difference := 5.25 - 5.22
	pooled := math.Sqrt(((n1-1)*0.95*0.95 + (n2-1)*0.83*0.83) / (n1 + n2 - 2))
	deviation := pooled * math.Sqrt(1/n1+1/n2)
	student := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n1 + n2 - 2}
	if pt := (difference - bound) / deviation; math.Abs(pt+2.69) > 0.01 || math.Abs(student.CDF(pt)-0.004) > 0.0005 {
		t.Errorf("t %.3f, p %.4f", pt, student.CDF(pt))
	}
	for _, tc := range []struct {
		level float64
		want  bool
	}{{0.05, true}, {0.0042, true}, {0.0035, false}} { // to either side of p
		wide := student.Quantile(1-tc.level) * deviation
		if got := equivalent(difference-wide, difference+wide, bound); got != tc.want {
			t.Errorf("at level %g: %v", tc.level, got)
		}
	}
}

// TestRodsForSame holds the sample size against a worked example: Chow, Shao and
// Wang 2003, Sample Size Calculations in Clinical Research, example 3.2.4. A
// deviation of 0.1, a difference of 0.01, a limit of 0.05, level 0.05, power 0.8:
// 107 of either kind.
func TestRodsForSame(t *testing.T) {
	if got := rodsForSame(0.01, 0.1*math.Sqrt2, 0.05, 0.05, 0.8); math.Round(got) != 107 {
		t.Errorf("%g of either", got)
	}
	if got := rodsForSame(0.05, 0.1, 0.05, 0.05, 0.8); !math.IsInf(got, 1) {
		t.Errorf("%g of either show that what is noticed is not", got)
	}
}

// TestRods measures so many rods of either kind, again and again, and counts how
// often the figure is told to be the same. Each rod has a blank of its own, though that
// of both specs is the same.
func TestRods(t *testing.T) {
	old := side(10, map[string]float64{"both": 0.6})
	s := Figures(old, side(10.2, map[string]float64{"both": 0.6, "own": 1}), noticing(1.5))[0]
	apart := math.Hypot(0.6, math.Hypot(0.6, 1))
	n, ok := s.Rods()
	if !ok || n != 11 { // ((2 + 1.28)·1.31/(1.5 − 0.2))² = 10.96
		t.Fatalf("%d rods, %v", n, ok)
	}
	const trials = 20000
	told, mean := 0, distuv.Normal{Mu: 0.2, Sigma: apart / math.Sqrt(float64(n)), Src: rand.NewPCG(1, 1)}
	for range trials {
		if m := mean.Rand(); equivalent(m-2*mean.Sigma, m+2*mean.Sigma, 1.5) {
			told++
		}
	}
	if share := float64(told) / trials; share < 0.8 {
		t.Errorf("%.3f are told", share)
	}
	if n, ok := Figures(old, side(10, map[string]float64{"both": 0.6}), noticing(1))[0].Rods(); ok {
		t.Errorf("%d rods to settle what is settled", n)
	}
}

// TestOften holds the share of pairs against the example of McGraw and Wong 1992,
// Psychological Bulletin 111:361: men of 69.7 in ± 2.8 and women of 64.3 in ± 2.6
// are drawn in pairs, and in 92 of 100 the man is taller.
func TestOften(t *testing.T) {
	women := side(64.3, map[string]float64{"women": 2.6})
	men := side(69.7, map[string]float64{"men": 2.8})
	women.List[0].Error, men.List[0].Error = 0, 0
	if got := Figures(women, men, nil)[0].Often(); math.Round(100*got) != 92 {
		t.Errorf("in %.4f of the pairs", got)
	}
}
