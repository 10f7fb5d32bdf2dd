package evaluate

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"rodlore/evaluate/optim"
	"rodlore/models"
	"rodlore/models/units"
)

// benchSheet is a sheet of what a small workshop measures; the values are filled
// in by who uses it.
const benchSheet = `
model: any
rod: 1
date: 2026-11-07
measured:
  - {weight: 150 g ± 0.5 g}
  - {weight: 110 g, section: butt}
  - {weight: 40 g, section: tip}
  - {balance: 800 mm}
  - {balance: 600 mm, section: tip}
  - {pendulum: 40 s, swings: 20, pivot: 20 mm, section: butt}
  - {pendulum: 40 s, swings: 20, pivot: 20 mm, section: tip}
  - {drop: 400 mm, load: 100 g}
  - {drop: 200 mm, load: 100 g, at: 600 mm}
  - {drop: 100 mm, load: 100 g, at: 1200 mm}
  - {third load: 200 g}
  - {test curve: 600 g}
  - {oscillations: 30, in: 10 s}
  - {settle: 7 s}
  - {trace: [{x: 1 m, y: 80 mm}, {x: 1.5 m, y: 200 mm}, {x: 2 m, y: 400 mm}], load: 150 g}
`

// readingsOf parses a sheet.
func readingsOf(t testing.TB, s *models.Spec, set *models.Settings, sheet string) []Reading {
	t.Helper()
	b, err := models.ParseBench("bench.yaml", []byte(sheet))
	if err != nil {
		t.Fatal(err)
	}
	list, err := Readings(b, s, set)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// newFitting is a fit about to begin.
func newFitting(t testing.TB, s *models.Spec, set *models.Settings, sheet string, free ...Free) *fitting {
	t.Helper()
	f := &fitting{bench: bench{spec: s, set: set, readings: readingsOf(t, s, set, sheet)}, parameters: parametersOf(s, set, free)}
	f.others = others(s, set, f.parameters)
	if err := f.expect(); err != nil {
		t.Fatal(err)
	}
	// A traced point is read where the rod by the spec lies.
	for i := range f.readings {
		if r := &f.readings[i]; r.What == models.TraceMeasure {
			r.y -= f.before[i] / math.Cos(0.3)
		}
	}
	if err := f.expect(); err != nil {
		t.Fatal(err)
	}
	return f
}

// measure draws a rod within its tolerances and reads it, and gives its
// unknowns.
func (f *fitting) measure(t testing.TB, draw *rand.Rand) []float64 {
	t.Helper()
	x := make([]float64, len(f.parameters))
	for k := range x {
		x[k] = draw.NormFloat64()
	}
	came := f.came(x)
	for _, in := range f.others {
		*in.in(came) = in.Deviation * draw.NormFloat64()
	}
	values, err := f.read(came)
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range values {
		f.readings[i].Value = v + f.readings[i].Deviation*draw.NormFloat64()
	}
	return x
}

func (f *fitting) find(t testing.TB) *optim.Minimum {
	t.Helper()
	at, err := optim.LevenbergMarquardt(f.residuals, make([]float64, len(f.parameters)), fitStep, fitEnough)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

// TestFitCoversTheTruth fits 300 rods that were made up within the tolerances of
// one spec, each with its own readings, and counts how often what was fitted is
// within one and two of its stated deviations of the truth. The counts must lie
// within what 300 tosses of such a coin give, but for one in ten thousand.
func TestFitCoversTheTruth(t *testing.T) {
	t.Parallel()
	const rods = 300
	s, set := goodSpec(t), models.DefaultSettings()
	f := newFitting(t, s, set, benchSheet, Frees...)
	draw := rand.New(rand.NewPCG(7, 300))
	within := make([][2]int, len(f.parameters))
	squares, alarms := 0.0, 0
	for range rods {
		truth := f.measure(t, draw)
		at := f.find(t)
		c, err := at.Covariance()
		if err != nil {
			t.Fatal(err)
		}
		for k := range truth {
			off := math.Abs(at.X[k]-truth[k]) / deviationAt(c, k)
			for n := range within[k] {
				if off < float64(n+1) {
					within[k][n]++
				}
			}
		}
		squares += at.Squares()
		if f.alarms(t, at) {
			alarms++
		}
	}
	// The readings hang together, so that rather less than one sheet in twenty
	// gives a false alarm.
	if most := falseAlarm*rods + 3.9*math.Sqrt(falseAlarm*(1-falseAlarm)*rods); float64(alarms) > most || alarms == 0 {
		t.Errorf("%d of %d sheets give a false alarm, want 1 to %.0f", alarms, rods, most)
	}
	for k, u := range f.parameters {
		for n, share := range []float64{0.6827, 0.9545} { // of a normal deviate
			scatter := 3.9 * math.Sqrt(share*(1-share)*rods)
			if got := float64(within[k][n]); math.Abs(got-share*rods) > scatter {
				t.Errorf("%s: %v of %d within %d deviations, want %.0f ± %.0f", u.Name(), got, rods, n+1, share*rods, scatter)
			}
		}
	}
	// The mean of χ² with n degrees of freedom is n, its variance 2n.
	n := float64(len(f.readings))
	if scatter := 3.9 * math.Sqrt(2*n/rods); math.Abs(squares/rods-n) > scatter {
		t.Errorf("squares come to %.2f in the mean, want %v ± %.2f", squares/rods, n, scatter)
	}
}

// alarms reports whether a reading is said to disagree.
func (f *fitting) alarms(t testing.TB, at *optim.Minimum) bool {
	t.Helper()
	fit := &Fit{Threshold: FarthestOff(len(f.readings))}
	for i, after := range must(f.read(f.came(at.X))) {
		fit.Readings = append(fit.Readings, FittedReading{Reading: f.readings[i], After: after})
	}
	f.judge(fit, at)
	return slices.ContainsFunc(fit.Readings, func(r FittedReading) bool { return r.Disagrees })
}

// One reading alone lies beyond 1.959964 deviations in one case of twenty
// (Abramowitz and Stegun 1964, table 26.5); the chance of none among n is the
// product of theirs.
func TestThreshold(t *testing.T) {
	near(t, "one reading", FarthestOff(1), 1.959964, 1e-6)
	for _, n := range []int{2, 12, 100} {
		none := math.Pow(math.Erf(FarthestOff(n)/math.Sqrt2), float64(n))
		near(t, "none among several", none, 0.95, 1e-9) // rounding
	}
}

// TestFitFindsTheTruth fits readings without errors, which must give back the
// unknowns as far as the prior knowledge of them lets them go.
func TestFitFindsTheTruth(t *testing.T) {
	s, set := goodSpec(t), models.DefaultSettings()
	f := newFitting(t, s, set, benchSheet, FreeModulus, FreeTurn)
	truth := []float64{1.5, -1, 0.8}
	values, err := f.read(f.came(truth))
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range values {
		f.readings[i].Value = v
	}
	got, err := FitRod(t.Context(), s, set, f.readings, FitOptions{Free: []Free{FreeModulus, FreeTurn}})
	if err != nil {
		t.Fatal(err)
	}
	for k, u := range got.Parameters {
		// The prior pulls towards 0 by the share (after/before)² of the truth.
		pull := math.Pow(u.After/u.Before, 2) * math.Abs(truth[k])
		if off := math.Abs(u.Value/u.Before - truth[k]); off > 3*pull+0.02 {
			t.Errorf("%s: %.3f tolerances, want %.3f within %.3f", u.Name(), u.Value/u.Before, truth[k], 3*pull)
		}
		if !u.Told() {
			t.Errorf("%s: nothing was told of it", u.Name())
		}
	}
}

// TestFitNamesTheWrongReading puts one reading off and nothing else.
func TestFitNamesTheWrongReading(t *testing.T) {
	s, set := goodSpec(t), models.DefaultSettings()
	for wrong := range readingsOf(t, s, set, benchSheet) {
		f := newFitting(t, s, set, benchSheet, Frees...)
		draw := rand.New(rand.NewPCG(uint64(wrong), 1))
		f.measure(t, draw)
		// By so much that even a reading that the others tell little of stands
		// out from them.
		sd := math.Sqrt(f.covariance.At(wrong, wrong) + priorOf(f, wrong))
		f.readings[wrong].Value += 8 * sd
		got, err := FitRod(t.Context(), s, set, f.readings, FitOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if !got.Readings[wrong].Disagrees {
			t.Errorf("%s: off by 8 deviations and not named", f.readings[wrong].Name())
		}
		worst := slices.MaxFunc(got.Readings, func(a, b FittedReading) int {
			return int(1e6 * (math.Abs(a.Off) - math.Abs(b.Off)))
		})
		if worst.Reading != got.Readings[wrong].Reading {
			t.Errorf("%s is off by most, want %s", worst.Name(), f.readings[wrong].Name())
		}
	}
}

// priorOf is the variance of a reading that comes from the unknowns.
func priorOf(f *fitting, i int) float64 {
	x := make([]float64, len(f.parameters))
	j := f.moves(&optim.Minimum{X: x, Jacobian: must(optim.Jacobian(f.residuals, x, len(f.readings)+len(x), fitStep))})
	return mat.Dot(j.RowView(i), j.RowView(i))
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// TestFitWithoutMeasuringMuch keeps what nothing was measured of as it was.
func TestFitWithoutMeasuringMuch(t *testing.T) {
	s, set := goodSpec(t), models.DefaultSettings()
	f := newFitting(t, s, set, strings.SplitAfter(benchSheet, "± 0.5 g}\n")[0], Frees...)
	f.readings[0].Value = f.before[0]
	got, err := FitRod(t.Context(), s, set, f.readings, FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range got.Parameters {
		if told := u.Free == FreeWall; u.Told() != told && u.Section != "tip" {
			t.Errorf("%s: told %t by a weight alone", u.Name(), u.Told())
		}
		// Derivatives over a finite step leave next to nothing.
		if math.Abs(u.Value) > 1e-3*u.Before {
			t.Errorf("%s: %v by a weight that is right", u.Name(), u.Value)
		}
	}
}

// TestNextKeepsItsPromise makes the measurement that is said to help most, and
// holds that the figure is then known as well as was promised.
func TestNextKeepsItsPromise(t *testing.T) {
	s, set := goodSpec(t), models.DefaultSettings()
	f := newFitting(t, s, set, strings.SplitAfter(benchSheet, "section: tip}\n")[0], Frees...)
	for i, v := range f.before {
		f.readings[i].Value = v
	}
	for _, figure := range []string{"third-load", "recovery", "weight"} {
		before, err := FitRod(t.Context(), s, set, f.readings, FitOptions{For: figure})
		if err != nil {
			t.Fatal(err)
		}
		next := before.Next[0]
		made := bench{spec: s, set: set, readings: []Reading{next.Reading}}
		next.Reading.Value = must(made.read(newBuild(s)))[0]
		after, err := FitRod(t.Context(), s, set, append(slices.Clone(f.readings), next.Reading), FitOptions{For: figure})
		if err != nil {
			t.Fatal(err)
		}
		if next.Know >= before.Know {
			t.Errorf("%s: %s promises nothing: %v after %v", figure, next.Name(), next.Know, before.Know)
		}
		// Both are of first order about the same rod, differentiated over a
		// tenth of the tolerances.
		if math.Abs(after.Know-next.Know) > 0.01*next.Know {
			t.Errorf("%s: known to %v after %s, promised %v", figure, after.Know, next.Name(), next.Know)
		}
	}
}

func TestFitRefuses(t *testing.T) {
	s, set := goodSpec(t), models.DefaultSettings()
	for _, tt := range []struct {
		name, line, want string
	}{
		{"a section that is not there", "{weight: 40 g, section: middle}", `bench.yaml:6:5: the rod has no section named "middle"; it has butt, tip`},
		{"a drop behind the hold", "{drop: 10 mm, load: 100 g, at: 2.9 m}", "bench.yaml:6:5: a drop is read 2900 mm from the tip, of a free length of "},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b, err := models.ParseBench("bench.yaml", []byte("model: any\nrod: 1\ndate: 2026-11-07\nmeasured:\n\n  - "+tt.line))
			if err != nil {
				t.Fatal(err)
			}
			if _, err = Readings(b, s, set); err == nil || !strings.HasPrefix(err.Error(), tt.want) {
				t.Errorf("got %v, want %s", err, tt.want)
			}
		})
	}
	good := readingsOf(t, s, set, benchSheet)
	middle := bench{spec: s, set: set, readings: []Reading{{What: models.BalanceMeasure, Section: "butt"}}}
	balanced := []Reading{{
		What: models.PendulumMeasure, Section: "butt", Deviation: 0.2, swings: 20, pivot: must(middle.read(newBuild(s)))[0],
	}}
	for _, tt := range []struct {
		name     string
		readings []Reading
		figure   string
		want     string
	}{
		{"nothing measured", nil, "", "nothing was measured; give at least a weight and a drop"},
		{"a figure that is none", good, "luck", `Skerry 10: it has no figure "luck"`},
		{"a figure that is counted", good, "rings", "rings is counted and not measured; ask for another figure"},
		{"swung about its balance", balanced, "", "Skerry 10: pendulum of the butt: it balances at "},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := FitRod(t.Context(), s, set, tt.readings, FitOptions{For: tt.figure})
			if err == nil || !strings.HasPrefix(err.Error(), tt.want) {
				t.Errorf("got %v, want %s…", err, tt.want)
			}
		})
	}
}

// TestFitFar holds that a rod far from its spec, a tip half as stiff again, is
// said to be so, and found where the tolerances let it be.
func TestFitFar(t *testing.T) {
	for _, tt := range []struct {
		name        string
		tolerance   float64 // of the modulus
		least, most float64 // of what was found
		expected    bool    // of a rod within its tolerances
	}{
		// Fifteen deviations away, part of it is blamed on other inputs.
		{name: "within 3 %", tolerance: 0.03, least: 0.2, most: 0.5},
		{name: "within 50 %", tolerance: 0.5, least: 0.47, most: 0.51, expected: true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s, set := goodSpec(t), models.DefaultSettings()
			s.Tolerances.Modulus = models.Given[units.Share]{Value: units.Share(tt.tolerance), Text: "given"}
			f := newFitting(t, s, set, benchSheet, FreeModulus)
			b := newBuild(s)
			for j := range b.sections[1].modulus {
				b.sections[1].modulus[j] = 0.5
			}
			for i, v := range must(f.read(b)) {
				f.readings[i].Value = v
			}
			got, err := FitRod(t.Context(), s, set, f.readings, FitOptions{Free: []Free{FreeModulus}})
			if err != nil {
				t.Fatal(err)
			}
			if expected := got.Chance > 1e-3; expected != tt.expected {
				t.Errorf("a chance of %v", got.Chance)
			}
			if tip := got.Parameters[1]; tip.Value < tt.least || tip.Value > tt.most {
				t.Errorf("its tip came out %v stiffer, want %v to %v", tip.Value, tt.least, tt.most)
			}
		})
	}
}

func BenchmarkFit(b *testing.B) {
	s, set := goodSpec(b), models.DefaultSettings()
	sheet := benchSheet + "  - {drop: 300 mm, load: 150 g}\n  - {drop: 300 mm, load: 50 g}\n  - {drop: 300 mm, load: 120 g, at: 300 mm}\n"
	f := newFitting(b, s, set, sheet, FreeModulus, FreeWall, FreeBonding, FreeDamping)
	f.measure(b, rand.New(rand.NewPCG(1, 1)))
	for b.Loop() {
		if _, err := FitRod(b.Context(), s, set, f.readings, FitOptions{Free: []Free{FreeModulus, FreeWall, FreeBonding, FreeDamping}}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(f.readings)), "measurements")
	b.ReportMetric(float64(len(f.parameters)), "unknowns")
}
