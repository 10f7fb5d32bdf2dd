package diffing_test

import (
	"context"
	"flag"
	"math"
	"regexp"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
)

var (
	pairsWanted = flag.Int("pairs", 40, "how many pairs of rods are built of every step")
	allSteps    = flag.Bool("allsteps", false, "build pairs of all steps of the demo and of 30 leaps")
	stepsOnly   = flag.String("steps", "", "build pairs of those steps alone whose names this regular expression matches")
)

// compared are the figures of both sides of a step, with their changes.
func compared(t *testing.T, s step) []diffing.Shift {
	t.Helper()
	var sides [2]*evaluate.Figures
	for i, r := range []revision{s.old, s.new} {
		spec, set, err := r.files.read()
		if err != nil {
			t.Fatal(err)
		}
		if sides[i], err = evaluate.New(spec, set).FiguresWithTolerances(context.Background()); err != nil {
			t.Fatal(err)
		}
	}
	shifts := diffing.Figures(sides[0], sides[1], nil)
	return shifts
}

// sampled builds pairs of rods to a step and gives the changes of their figures.
func sampled(t *testing.T, s step, n int) map[string][]float64 {
	t.Helper()
	sides, err := s.workshops()
	if err != nil {
		t.Fatal(err)
	}
	built := make([]map[string]float64, n)
	if err := evaluate.InParallel(context.Background(), n, func(i int) {
		var err error
		if built[i], err = pair(sides, uint64(i)); err != nil {
			t.Error(err)
		}
	}); err != nil {
		t.Fatal(err)
	}
	changes := map[string][]float64{}
	for _, b := range built {
		for key, v := range b {
			changes[key] = append(changes[key], v)
		}
	}
	return changes
}

// TestChangesAreThoseOfPairs builds pairs of rods to twelve steps of the demo by
// writing what each came out as into the files, and holds the changes told
// against those of the pairs: their scatter to 15 %, their mean to a tenth of
// that, and whether they are real, all beyond what so few pairs leave.
//
// One in fifty may miss.
//
//	go test ./diffing -run ThoseOfPairs -pairs 1000 -allsteps -timeout 2h
func TestChangesAreThoseOfPairs(t *testing.T) {
	all := revisions(t)
	list := steps(all)
	if *allSteps {
		list = append(list, leaps(all, 30)...)
	} else {
		var few []step
		for i := range 12 {
			few = append(few, list[i*len(list)/12])
		}
		list = few
	}
	only := regexp.MustCompile(*stepsOnly)
	list = slices.DeleteFunc(list, func(s step) bool { return !only.MatchString(s.name()) })
	told, missed := 0, 0
	for _, s := range list {
		changes := sampled(t, s, *pairsWanted)
		for _, shift := range compared(t, s) {
			change := shift.InPairs()
			if math.IsNaN(change.Tolerance) || figures.Of(shift.Key).Exact {
				continue
			}
			told++
			if miss := off(shift, change, changes[shift.Key]); miss != "" {
				missed++
				mean, deviation := stat.MeanStdDev(changes[shift.Key], nil)
				t.Logf("%s: %s changes by %.4g, in pairs by %.4g ± %.4g, against in %.1f %%; sampled are %.4g ± %.4g: %s is off",
					s.name(), shift.Key, shift.Change, change.Mean, change.Tolerance, 100*change.Against, mean, deviation, miss)
			}
		}
	}
	t.Logf("%d of %d changes are off", missed, told)
	if told < 300 && *stepsOnly == "" || missed > told/50 {
		t.Errorf("%d of %d changes are off", missed, told)
	}
}

// off says what of a change differs from what was sampled by more than it may.
func off(shift diffing.Shift, change evaluate.Change, list []float64) string {
	const sure = 4     // standard deviations of what is sampled
	const drawn = 1000 // pairs that a change is told from
	mean, deviation := stat.MeanStdDev(list, nil)
	n := float64(len(list))
	against := 0.0
	for _, v := range list {
		if !(v*math.Copysign(1, shift.Change) > shift.Error) {
			against++
		}
	}
	if max(deviation, change.Tolerance) < shift.Error+1e-9*math.Abs(shift.New.Value) {
		return "" // less than the figures are known to
	}
	// Of the variance of a standard deviation: Kenney and Keeping 1951,
	// Mathematics of Statistics 2, 7.7 (from memory).
	spread := deviation * math.Sqrt((2+max(stat.ExKurtosis(list, nil), 0))/(4*n))
	share := math.Max(change.Against, against/n)
	// A pair in a thousand, of which another place fails, may make half of a deviation,
	// and so few as were built need not have one: then the interval decides that holds
	// all but few on either side, a quarter of which is uncertain by the share
	// √(2·Few·(1−Few)/n)/4 over a normal density of 0.054 there.
	sorted := slices.Sorted(slices.Values(list))
	interval := (stat.Quantile(1-evaluate.Few, stat.Empirical, sorted, nil) - stat.Quantile(evaluate.Few, stat.Empirical, sorted, nil)) / 4
	switch {
	case math.Abs(change.Tolerance-deviation) > 0.15*deviation+sure*spread &&
		math.Abs((change.High-change.Low)/4-interval) > 0.15*interval+sure*0.98*interval/math.Sqrt(n):
		return "the tolerance"
	case math.Abs(change.Mean-mean) > 0.1*deviation+sure*math.Hypot(deviation/math.Sqrt(n), change.Tolerance/math.Sqrt(drawn)):
		return "the mean"
	case math.Abs(change.Against-against/n) > 0.02+sure*math.Sqrt(share*(1-share)/n):
		return "the share against"
	}
	return ""
}

// TestFollowersAreAsReal holds that of figures that follow one another none is
// real where the other is not, on all steps of the demo.
func TestFollowersAreAsReal(t *testing.T) {
	for _, s := range steps(revisions(t)) {
		is := map[string]diffing.Verdict{}
		for _, shift := range compared(t, s) {
			if shift.Both() { // a fly rod casts no lead
				is[shift.Key] = shift.Real()
			}
		}
		for follower, leader := range map[string]string{"settle": "recovery", "cast-lead": "cast-mass", "cast-share": "cast-mass", "cast-line": "cast-mass"} {
			if s.old.spec.Casts != s.new.spec.Casts && follower == "cast-share" {
				continue
			}
			if _, has := is[follower]; has && is[follower] != is[leader] {
				t.Errorf("%s: %s is real: %s; %s, which it follows: %s", s.name(), follower, string(is[follower]), leader, string(is[leader]))
			}
		}
	}
}
