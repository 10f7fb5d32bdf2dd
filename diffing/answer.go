package diffing

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"rodlore/evaluate"
)

// Answer is what can be said of a figure that two rods have.
type Answer string

const (
	// Changed: in all but few pairs of an old rod and a new one, or by design by
	// more than an angler notices.
	Changed Answer = "changed"
	// Same: no more than few pairs differ by what an angler notices.
	Same Answer = "same"
	// Open: the numbers cannot tell.
	Open Answer = "open"
)

// Answer is what can be said of the figure; "" where a side lacks it. That a change
// was not shown proves nothing, so a figure is the same only where the whole
// interval of its change lies within what an angler notices: two one-sided tests
// (Schuirmann 1987, Journal of Pharmacokinetics and Biopharmaceutics 15:657).
func (s Shift) Answer() Answer {
	switch {
	case !s.Both():
		return ""
	case s.Real() == Real || s.designed():
		return Changed
	case s.Within():
		return Same
	}
	return Open
}

// ByDesign reports whether the figure changed from spec to spec by more than an
// angler notices, though not in nearly every pair of rods: Often says in how many.
func (s Shift) ByDesign() bool { return s.Both() && s.Real() != Real && s.designed() }

func (s Shift) designed() bool {
	return s.Often() > 0.5 && math.Abs(s.Change)-s.Error > s.Noticed
}

// Often is the share of pairs of an old rod and a new one in which the figure goes
// the way that it goes from spec to spec; NaN where that is not known.
func (s Shift) Often() float64 { return 1 - s.InPairs().Against }

// Within reports whether all but few pairs of an old rod and a new one are within
// what an angler notices of each other.
func (s Shift) Within() bool {
	c := s.InPairs()
	if s.Change == 0 && c.Tolerance == 0 { // nothing that has a hand in it changed
		return true
	}
	return equivalent(c.Low-s.Error, c.High+s.Error, s.Noticed)
}

// equivalent reports whether an interval lies within a bound on either side of
// zero: the interval of confidence 1 − 2α for two one-sided tests at level α.
func equivalent(low, high, bound float64) bool { return -bound <= low && high <= bound }

// mostRods is how many rods of one revision anybody would measure to settle it.
const mostRods = 40

// Rods is how many rods of either revision it takes, measured without an error
// worth counting, to tell in four cases of five that the figure is the same or that
// it changed, whichever takes fewer; ok is false where that is more than anybody
// would measure, or the figure is settled. Each of them is a rod of its own, so they
// scatter by more than the pairs, which have in common what their specs have.
func (s Shift) Rods() (n int, ok bool) {
	c := s.InPairs()
	if s.Answer() != Open || !(c.Tolerance > 0) {
		return 0, false
	}
	apart := s.Pairs.Apart(s.Key)
	const power = 0.8
	least := min(
		rodsForSame(math.Abs(c.Mean), apart, s.Noticed, evaluate.Few, power),
		rodsForChange(math.Abs(c.Mean), apart, evaluate.Few, power))
	if !(least <= mostRods) {
		return 0, false
	}
	const fewest = 2 // one rod says nothing of the next
	return max(int(math.Ceil(least)), fewest), true
}

// rodsForSame is how many rods of either kind show, at level alpha and with that
// power, that their means differ by no more than a bound: the equivalence of two
// means (Chow, Shao and Wang 2003, Sample Size Calculations in Clinical Research,
// 3.2.3). Deviation is that of the difference of two single rods.
func rodsForSame(change, deviation, bound, alpha, power float64) float64 {
	if change >= bound {
		return math.Inf(1)
	}
	z := distuv.UnitNormal.Quantile(1-alpha) + distuv.UnitNormal.Quantile((1+power)/2)
	return math.Pow(z*deviation/(bound-change), 2)
}

// rodsForChange is how many rods of either kind show that their means differ (ibid.,
// 3.2.2, one-sided).
func rodsForChange(change, deviation, alpha, power float64) float64 {
	z := distuv.UnitNormal.Quantile(1-alpha) + distuv.UnitNormal.Quantile(power)
	return math.Pow(z*deviation/change, 2)
}
