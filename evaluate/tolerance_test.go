package evaluate

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"

	"rodlore/cmd/rodlore/demo"
	"rodlore/evaluate/figures"
	"rodlore/models"
	"rodlore/models/units"
)

// demoModels are the demo's models as they stand.
var demoModels = []string{"skerry-10", "wrack-9", "groyne-13", "rill-7", "ferry-8", "overfall-11"}

// demoSpec resolves a model of the demo as it was last saved.
func demoSpec(t testing.TB, name string) *models.Spec {
	t.Helper()
	states, err := demo.States()
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, state := range states {
		for path, src := range state.Files {
			files[path] = src
		}
	}
	m, err := models.ParseModel(name, files["models/"+name+".yaml"])
	if err != nil {
		t.Fatal(err)
	}
	parts, err := models.ParseParts("parts.yaml", files["parts.yaml"])
	if err != nil {
		t.Fatal(err)
	}
	materials, err := models.ParseMaterials("materials.yaml", files["materials.yaml"])
	if err != nil {
		t.Fatal(err)
	}
	s, err := models.Resolve(m, parts, materials)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func withTolerances(t testing.TB, s *models.Spec, set *models.Settings) *Figures {
	t.Helper()
	f, err := New(s, set).FiguresWithTolerances(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// TestTolerancesAreThoseOfSamples builds each of the demo's rods two thousand
// times over with all inputs off at random and works out every one on the
// unlumped mesh. Beside what so many samples leave open a tolerance is right to 3 %;
// one that does not follow a straight line comes from samples itself.
func TestTolerancesAreThoseOfSamples(t *testing.T) {
	for _, name := range demoModels {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s, set := demoSpec(t, name), models.DefaultSettings()
			f := withTolerances(t, s, set)
			const samples = 2000
			sampled := scatter(t, s, set, samples)
			for _, fig := range f.List {
				if figures.Of(fig.Key).Exact {
					if fig.Tolerance != 0 {
						t.Errorf("%s has the tolerance %g", fig.Key, fig.Tolerance)
					}
					continue
				}
				got, open := sampled[fig.Key], 1./samples
				if fig.Sampled {
					open += 1. / spreadSamples
				}
				near(t, "tolerance of "+fig.Key, fig.Tolerance, got.deviation, 0.03+2.5*got.uncertain*math.Sqrt(open))
			}
		})
	}
}

// scattering is a standard deviation, and times the root of how many samples it is
// from, by what share it is uncertain: √((kurtosis − 1)/4).
type scattering struct{ deviation, uncertain float64 }

// scatter samples builds of a spec and gives how its figures scatter.
func scatter(t *testing.T, s *models.Spec, set *models.Settings, n int) map[string]scattering {
	t.Helper()
	sampled := map[string][]float64{}
	for _, built := range builds(t, s, set, n) {
		for key, v := range built {
			sampled[key] = append(sampled[key], v)
		}
	}
	found := map[string]scattering{}
	for key, list := range sampled {
		found[key] = scattering{stat.StdDev(list, nil), math.Sqrt((stat.ExKurtosis(list, nil) + 2) / 4)}
	}
	return found
}

// mostOff is how many deviations an input is off at most. At four the eye takes a
// turn for square that a tip all but never comes to: one such rod in thousands would
// scatter by more than all others together.
const mostOff = 3

// builds works out n rods of a spec with all inputs off at random.
func builds(t *testing.T, s *models.Spec, set *models.Settings, n int) []values {
	t.Helper()
	w, err := New(s, set).workOut()
	if err != nil {
		t.Fatal(err)
	}
	inputs, b, random := inputsOf(s, set), newBuild(s), rand.New(rand.NewPCG(7, 8))
	list := make([]values, n)
	for i := range list {
		for _, in := range inputs {
			*in.in(b) = in.Deviation * min(max(random.NormFloat64(), -mostOff), mostOff)
		}
		list[i] = builtAs(t, s, set, b, w.solved)
	}
	return list
}

// builtAs works out the figures of a build on the coarse mesh of all pieces.
func builtAs(t *testing.T, s *models.Spec, set *models.Settings, b *build, from *cases) values {
	t.Helper()
	r, err := assembleLike(nil, s, set, b)
	if err != nil {
		t.Fatal(err)
	}
	mesh, err := r.free(coarseElements)
	if err != nil {
		t.Fatal(err)
	}
	p := newPass(r, set, mesh)
	solved, notes := p.solve(from)
	if len(notes) > 0 {
		t.Fatal(notes)
	}
	v, err := p.read(solved)
	if err != nil {
		t.Fatal(err)
	}
	for key, value := range r.count() {
		v[key] = value
	}
	return v
}

// TestLumpedRodChangesAlike holds that the lumped mesh gives what an input does
// as the mesh of all pieces does.
func TestLumpedRodChangesAlike(t *testing.T) {
	s, set := demoSpec(t, "ferry-8"), models.DefaultSettings()
	w, err := New(s, set).workOut()
	if err != nil {
		t.Fatal(err)
	}
	trials, err := newTrials(w, set)
	if err != nil {
		t.Fatal(err)
	}
	b := newBuild(s)
	for _, in := range inputsOf(s, set) {
		*in.in(b) = in.Deviation
		lumped, err := trials.read(b, in)
		if err != nil {
			t.Fatal(err)
		}
		all := builtAs(t, s, set, b, w.solved)
		*in.in(b) = 0
		plain := builtAs(t, s, set, b, w.solved)
		for _, key := range []string{"weight", "third-load", "test-curve", "recovery", "flat-turn", "tip-drop"} {
			got, want := lumped[key][0]-trials.base[key][0], all[key]-plain[key]
			// A tenth of the effect, or of what would show at all.
			if math.Abs(got-want) > 0.1*math.Abs(want)+3e-5*plain[key] {
				t.Errorf("%s: %s changes by %.4g, want %.4g", in.Name, key, got, want)
			}
		}
	}
}

// TestToleranceWithoutTheTurn holds that what does not hang on the turn that counts
// as square is not hurt by one that an eye a degree off takes beyond the pull.
func TestToleranceWithoutTheTurn(t *testing.T) {
	s, set := demoSpec(t, "rill-7"), models.DefaultSettings()
	usual := withTolerances(t, s, set)
	set.TestCurve.Turn.Value = set.TestCurve.Pull.Value - units.Angle(0.9*turnDeviation)
	steep := withTolerances(t, s, set)
	for _, fig := range steep.List {
		switch was, _ := usual.Get(fig.Key); fig.Key {
		case "test-curve", "strain-worst", "flat-turn", "line-gap", "line-touch", "ring-load-worst", "ring-turn-spread":
		default:
			near(t, "tolerance of "+fig.Key, fig.Tolerance, was.Tolerance, 1e-3) // what the start of a search leaves
		}
	}
	if fig, ok := steep.Get("test-curve"); !ok || !math.IsNaN(fig.Tolerance) {
		t.Errorf("the test curve %v has a tolerance", fig)
	}
}

func TestSources(t *testing.T) {
	s, set := demoSpec(t, "skerry-10"), models.DefaultSettings()
	f := withTolerances(t, s, set)
	for _, fig := range f.List {
		sources, rest := f.Contributions(fig.Key)
		sum := rest * rest
		for i, source := range sources {
			sum += source.Effect * source.Effect
			if i > 0 && math.Abs(source.Effect) > math.Abs(sources[i-1].Effect) {
				t.Errorf("%s: %s does more than %s before it", fig.Key, source.Name, sources[i-1].Name)
			}
		}
		near(t, "sources of "+fig.Key, math.Sqrt(sum), fig.Tolerance, 1e-12)
	}
	// Half of the blank's stiffness stands in its walls' fourth powers, so its
	// walls and moduli come first (common practice, no source).
	first, _ := f.Contributions("third-load")
	if kind := first[0].ID.Kind; kind != WallInput && kind != ModulusInput && kind != OutsideInput {
		t.Errorf("the third load is widest by %s", first[0].Name)
	}
	if sources, _ := f.Contributions("rings"); sources != nil {
		t.Errorf("the count of rings has sources %v", sources)
	}
}

func TestFiguresWithoutTolerances(t *testing.T) {
	s, set := demoSpec(t, "skerry-10"), models.DefaultSettings()
	f, err := New(s, set).Figures()
	if err != nil {
		t.Fatal(err)
	}
	if sources, _ := f.Contributions("weight"); sources != nil || f.Tolerances != nil {
		t.Error("there are tolerances that nobody asked for")
	}
}

// TestTighterSpecIsTighter holds that a spec's own tolerances go before the
// range's, and none makes a figure exact.
func TestTighterSpecIsTighter(t *testing.T) {
	s, set := demoSpec(t, "skerry-10"), models.DefaultSettings()
	wide := withTolerances(t, s, set)
	s.Tolerances.PartMass = models.Given[units.Share]{Value: 0.01, Text: "1 %"}
	tight := withTolerances(t, s, set)
	a, _ := wide.Get("ring-weight")
	b, _ := tight.Get("ring-weight")
	near(t, "tolerance of the ring weight", b.Tolerance, a.Tolerance/3, 1e-9)
	s.Tolerances.PartMass.Value = 0
	if c, _ := withTolerances(t, s, set).Get("ring-weight"); c.Tolerance != 0 {
		t.Errorf("rings of exact mass have the tolerance %g", c.Tolerance)
	}
}

func BenchmarkTolerances(b *testing.B) {
	set := models.DefaultSettings()
	for _, name := range demoModels {
		s := demoSpec(b, name)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				withTolerances(b, s, set)
			}
		})
	}
}

// TestNoFigureIsAProduct holds that no figure told by its derivatives varies with
// products of inputs, which these would miss: with every input a deviation off one
// way or the other, the mean of such a rod and its reflection is off what single
// inputs make of it by ∑ f_ij·x_i·x_j over i < j, whose square has the mean that the
// products add to the variance. A fifth of the tolerance adds 2 % to it.
func TestNoFigureIsAProduct(t *testing.T) {
	const rods, most = 8, 0.2
	for _, name := range demoModels {
		s, set := demoSpec(t, name), models.DefaultSettings()
		f, random := withTolerances(t, s, set), rand.New(rand.NewPCG(9, 3))
		trials := must(newTrials(must(New(s, set).workOut()), set))
		products, inputs := map[string]float64{}, inputsOf(s, set)
		for range rods {
			built := [2]*build{newBuild(s), newBuild(s)}
			for _, in := range inputs {
				off := math.Copysign(in.Deviation, random.Float64()-0.5)
				*in.in(built[0]), *in.in(built[1]) = off, -off
			}
			one, other := must(trials.read(built[0], perturbation{})), must(trials.read(built[1], perturbation{}))
			for key, spread := range f.Tolerances().Spreads {
				if fig, _ := f.Get(key); !spread.single() || fig.Sampled {
					continue
				}
				left := (one[key][0]+other[key][0])/2 - trials.base[key][0]
				for i := range inputs {
					left -= (spread.Parts[0].Minus[i] + spread.Parts[0].Plus[i]) / 2
				}
				products[key] += left * left / rods
			}
		}
		for key, variance := range products {
			if fig, _ := f.Get(key); math.Sqrt(variance) > most*fig.Tolerance {
				t.Errorf("%s: products of inputs have %.2g of the tolerance of %s", name, math.Sqrt(variance)/fig.Tolerance, key)
			}
		}
	}
}
