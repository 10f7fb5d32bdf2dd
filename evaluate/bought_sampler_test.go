package evaluate

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"

	"rodlore/models"
)

const sampledParts = `rings: {tip-6: {size: 6 mm, height: 6 mm, feet: 0, mass: 0.6 g, frame: steel}}
seats: {seat-16: {length: 95 mm, diameter: 22 mm, mass: 28 g}}
`

const sampledSpec = `name: Gull 6
reel: {kind: fixed-spool, height: 60 mm}
length: 1830 mm
sections:
  - name: whole
    length: 1830 mm
    bought: {mass: 45 g, outside: [{at: 0 mm, is: 2.2 mm}, {at: 1830 mm, is: 10 mm}], material: carbon}
blank:
  held: {to: 200 mm}
  measured: [{drop: 330 mm ± 3 mm, load: 100 g}, {drop: 140 mm ± 3 mm, load: 100 g, at: 600 mm}]
rings: [{at: 0 mm, part: tip-6}]
handle: {seat: {at: 250 mm from butt, part: seat-16}}
`

// posterior is what is known of a blank, as the logarithm of its density at
// unknowns counted in what was known beforehand.
type posterior struct {
	f *fitting
	t testing.TB
}

func (p posterior) logDensity(x []float64) float64 {
	residuals, err := p.f.residuals(x)
	if err != nil {
		return math.Inf(-1)
	}
	return -floats.Dot(residuals, residuals) / 2
}

// TestBoughtAgainstSampler holds what is found of a blank against a random walk
// through the same knowledge without any straight line in it (Metropolis and
// others 1953, J. Chem. Phys. 21:1087): means within a quarter of a deviation, and
// deviations within a fifth, of the unknowns and of the third load of the blank.
func TestBoughtAgainstSampler(t *testing.T) {
	parts, materials := must(models.ParseParts("parts.yaml", []byte(sampledParts))), must(models.ParseMaterials("materials.yaml", nil))
	s := must(models.ParseSpec("gull-6.yaml", []byte(sampledSpec), parts, materials))
	b := must(boughtOf(s, models.DefaultSettings()))
	p := posterior{b.fitting, t}
	n := len(b.at.X)
	covariance := must(b.at.Covariance())

	// Metropolis by hand, one unknown at a time, its step its own deviation.
	rng := rand.New(rand.NewPCG(11, 3))
	const samples, burn = 6000, 500
	x := append([]float64{}, b.at.X...)
	at := p.logDensity(x)
	walked := make([][]float64, n)
	var loads []float64
	for k := range samples + burn {
		for i := range x {
			was := x[i]
			x[i] += 2 * deviationAt(covariance, i) * rng.NormFloat64()
			if to := p.logDensity(x); math.Log(rng.Float64()) < to-at {
				at = to
			} else {
				x[i] = was
			}
		}
		if k < burn {
			continue
		}
		for i := range x {
			walked[i] = append(walked[i], x[i])
		}
		if k%10 == 0 {
			loads = append(loads, must(p.f.figure(p.f.came(x), "third-load")))
		}
	}
	for i, u := range b.fitting.parameters {
		mean, deviation := stat.MeanStdDev(walked[i], nil)
		found, within := b.at.X[i], deviationAt(covariance, i)
		if math.Abs(mean-found) > within/4+0.05 || math.Abs(deviation/within-1) > 0.2 {
			t.Errorf("%s: %.3f ± %.3f, by the sampler %.3f ± %.3f", u.Name(), found, within, mean, deviation)
		}
	}
	mean, deviation := stat.MeanStdDev(loads, nil)
	fit := must(b.fitting.result(b.at, "third-load"))
	found := must(p.f.figure(p.f.came(b.at.X), "third-load"))
	if math.Abs(mean-found) > fit.Know/4 || math.Abs(deviation/fit.Know-1) > 0.2 {
		t.Errorf("third load %.4f ± %.4f N, by the sampler %.4f ± %.4f N", found, fit.Know, mean, deviation)
	}
}

// TestBoughtPropagation holds what is not known of a blank, carried into figures by
// first derivatives, against draws of it that are each worked through: the
// propagation of distributions of JCGM 101:2008 (supplement 1 to the GUM), clause 7,
// whose clause 8 tells to check the one by the other. 400 draws know a deviation to
// 3.5 %, so three of these beside a twentieth for what is not straight.
func TestBoughtPropagation(t *testing.T) {
	const draws = 400
	parts, materials := must(models.ParseParts("parts.yaml", []byte(sampledParts))), must(models.ParseMaterials("materials.yaml", nil))
	s := must(models.ParseSpec("gull-6.yaml", []byte(sampledSpec), parts, materials))
	set := models.DefaultSettings()
	figs := must(New(s, set).FiguresWithTolerances(t.Context()))
	rng := rand.New(rand.NewPCG(101, 2008))
	f := &fitting{bench: bench{spec: s, set: set}}
	for _, key := range []string{"third-load", "weight"} {
		fig, _ := figs.Get(key)
		unknown, _ := figs.Apart(fig)
		var drawn []float64
		for range draws {
			came := newBuild(s)
			for k := range came.known {
				came.known[k] = rng.NormFloat64()
			}
			drawn = append(drawn, must(f.figure(came, key)))
		}
		mean, deviation := stat.MeanStdDev(drawn, nil)
		if ratio := unknown / deviation; math.Abs(ratio-1) > 0.15 {
			t.Errorf("%s is not known by %.3g, and draws scatter by %.3g", key, unknown, deviation)
		}
		if math.Abs(mean-fig.Value) > 0.3*deviation {
			t.Errorf("%s is %.4g, and the mean of draws %.4g ± %.2g", key, fig.Value, mean, deviation)
		}
	}
}
