package evaluate_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// plainRod is a 10 ft rod with rings of one kind at the places given, mm from
// the tip; modulus in GPa.
func plainRod(t testing.TB, modulus float64, rings ...float64) *models.Spec {
	t.Helper()
	var b strings.Builder
	b.WriteString(`name: Plain
job: checks
reel: {kind: fixed-spool, mass: 300 g}
casts: 10 g to 40 g
length: 3000 mm
sections:
  - name: butt
    length: 1540 mm
    material: carbon
    tube: [{at: 0 mm, outside: 7.6 mm, wall: 0.9 mm}, {at: 1540 mm, outside: 12 mm, wall: 1 mm}]
  - name: tip
    length: 1540 mm
    material: carbon
    tube: [{at: 0 mm, outside: 2 mm, wall: 0.5 mm}, {at: 1540 mm, outside: 8.4 mm, wall: 0.8 mm}]
joints: [{between: [butt, tip], kind: overlap, length: 80 mm}]
handle:
  seat: {at: 450 mm from butt, part: seat}
  grips: [{from: 0 mm, to: 380 mm, diameter: 26 mm, material: cork}]
finish: {thread: A, varnish: two coats}
rings:
  - {at: 0 mm, part: tip}
`)
	for _, at := range rings {
		fmt.Fprintf(&b, "  - {at: %g mm, part: ring}\n", at)
	}
	return resolve(t, b.String(), `
rings:
  tip: {size: 8 mm, height: 6 mm, feet: 0, mass: 0.7 g, frame: steel, price: 3}
  ring: {size: 12 mm, height: 14 mm, feet: 2, mass: 1.4 g, frame: steel, price: 2.5,
    foot: {length: 11 mm, width: 2.2 mm, thickness: 0.45 mm, spread: 26 mm}}
seats:
  seat: {length: 95 mm, diameter: 22 mm, mass: 30 g, price: 12}
threads:
  A: {thickness: 0.15 mm, density: 1150 kg/m3, modulus: 2 GPa}
varnishes:
  two coats: {thickness: 0.1 mm, density: 1150 kg/m3, modulus: 2.8 GPa}
`, fmt.Sprintf("carbon: {modulus: %g GPa, density: 1550 kg/m3, strain: {compression: 0.8 %%}}\n", modulus))
}

var (
	eight = []float64{110, 250, 420, 620, 860, 1140, 1450, 1790}
	five  = []float64{170, 400, 720, 1150, 1700}
)

func value(t *testing.T, f *evaluate.Figures, key string) float64 {
	t.Helper()
	v, ok := f.Get(key)
	if !ok {
		t.Fatalf("no figure %s; notes %q", key, f.Notes)
	}
	return v.Value
}

// TestFewerRings holds what the trade says of fewer rings of the same kind on
// the same blank: lighter, quicker to recover, fewer flat spots (common
// practice, no source).
func TestFewerRings(t *testing.T) {
	many, few := evaluated(t, plainRod(t, 100, eight...)), evaluated(t, plainRod(t, 100, five...))
	for _, key := range []string{"weight", "ring-weight", "whipping-weight", "swing", "flat-turn", "parts-cost", "cast-mass"} {
		if a, b := value(t, many, key), value(t, few, key); b >= a {
			t.Errorf("%s goes from %g to %g with fewer rings, want less", key, a, b)
		}
	}
	if a, b := value(t, many, "recovery"), value(t, few, "recovery"); b <= a {
		t.Errorf("recovery goes from %g to %g Hz with fewer rings, want more", a, b)
	}
	within(t, many, "ring-weight", 8*1.4e-3+0.7e-3, 1e-9)
	within(t, many, "parts-cost", 8*2.5+3+12, 1e-9)
	within(t, few, "rings", 5, 0)
}

// TestSameAction holds that two rods of the same action and different power
// bend to the same shape under loads in the ratio of their stiffness (common
// practice, no source; exact for a rod without weight). Their own weight moves
// the shape by less than a degree.
func TestSameAction(t *testing.T) {
	soft, strong := evaluated(t, plainRod(t, 80)), evaluated(t, plainRod(t, 160))
	if a, b := value(t, soft, "third-turn"), value(t, strong, "third-turn"); math.Abs(a-b) > math.Pi/180 {
		t.Errorf("third-turn is %g and %g rad", a, b)
	}
	if r := value(t, strong, "tip-stiffness") / value(t, soft, "tip-stiffness"); math.Abs(r-2) > 0.02 {
		t.Errorf("tip stiffness grows %g-fold with twice the modulus", r)
	}
	for _, weightless := range []float64{2, 5, 9} {
		bend := func(s *models.Spec, force float64) *evaluate.Bent {
			s.Finish = models.Finish{} // whippings at joints are as stiff on either
			b, err := evaluate.New(s, models.DefaultSettings()).Bend(evaluate.BendCase{Force: force, Direction: math.Pi / 2})
			if err != nil {
				t.Fatal(err)
			}
			return b
		}
		// A rod without running rings has no feet, so the scaling is exact.
		a, b := bend(plainRod(t, 80), weightless), bend(plainRod(t, 160), 2*weightless)
		if d := math.Hypot(a.Tip.X-b.Tip.X, a.Tip.Y-b.Tip.Y); d > 1e-7 {
			t.Errorf("%g N: the tips lie %g m apart", weightless, d)
		}
	}
}

// TestPlausible holds a 10 ft spinning rod with eight rings within what such
// rods are like (common practice, no source): 130 to 220 g, test curve about
// 1 to 2 lb, swinging at 2 to 5 Hz held at the grip, strains well below 1 %.
func TestPlausible(t *testing.T) {
	f := evaluated(t, plainRod(t, 100, eight...))
	for _, row := range []struct {
		key       string
		low, high float64
	}{
		{"weight", 0.130, 0.220},
		{"test-curve", 1 * 4.448, 2.2 * 4.448},
		{"recovery", 2, 5},
		{"strain-worst", 0.001, 0.01},
		{"balance", 0.5, 1},
		{"third-turn", 0.512, 1.5}, // more than the 29.3° of a uniform rod
		{"half-turn", 0.15, 0.5},
		{"flat-turn", 0.01, 0.3},
		{"flat-worst", 0.2, 0.7},
	} {
		if v := value(t, f, row.key); v < row.low || v > row.high {
			t.Errorf("%s is %g, want %g to %g", row.key, v, row.low, row.high)
		}
	}
}

// TestNames holds the figures' keys and units against those that a spec's wants
// may name.
func TestNames(t *testing.T) {
	units := map[string]string{}
	for _, n := range figures.All() {
		units[n.Key] = n.Unit
	}
	f := evaluated(t, plainRod(t, 100, eight...))
	if len(f.List) < 27 {
		t.Errorf("only %d figures; notes %q", len(f.List), f.Notes)
	}
	for _, fig := range f.List {
		if unit, ok := units[fig.Key]; !ok || unit != fig.Unit {
			t.Errorf("%s is in %q, wants name it in %q (known: %v)", fig.Key, fig.Unit, unit, ok)
		}
		if text := say.English().Teller(models.DefaultSettings()).Figure(fig); !strings.HasSuffix(text, ".") || strings.ContainsAny(text, "%!{}") && !strings.Contains(text, " %") {
			t.Errorf("%s has the sentence %q", fig.Key, text)
		}
	}
}

func TestMissingAnswersSayWhy(t *testing.T) {
	s := plainRod(t, 100, eight...)
	set := models.DefaultSettings()
	set.TestCurve.Turn.Value = 1.7 // no plumb weight turns the tip past the plumb line
	f, err := evaluate.New(s, set).Figures()
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := f.Get("test-curve"); ok {
		t.Error("a turn that no load gives has a test curve")
	}
	if !slices.ContainsFunc(f.Notes, func(n evaluate.Note) bool { return n.Figure == "test-curve" }) {
		t.Errorf("the notes %q do not say why there is no test curve", f.Notes)
	}
	for _, key := range []string{"third-load", "load-limit"} {
		if _, ok := f.Get(key); !ok {
			t.Errorf("%s is gone too", key)
		}
	}
}

// TestRingFewerTakesOffTheTestCurve holds that through the rings a ring fewer near
// the tip counts, and where the weight hangs from the tip ring it does not, as the
// blank is the same (common practice, no source).
func TestRingFewerTakesOffTheTestCurve(t *testing.T) {
	fewer := slices.Delete(slices.Clone(eight), 1, 2)
	for _, tc := range []struct {
		line        string
		least, most float64 // of what is lost, as a share
	}{{"through rings", 0.02, 0.15}, {"from tip ring", -0.01, 0.01}} {
		set := models.DefaultSettings()
		set.TestCurve.Line = tc.line
		var curve, third [2]float64
		for i, rings := range [][]float64{eight, fewer} {
			f, err := evaluate.New(plainRod(t, 100, rings...), set).Figures()
			if err != nil {
				t.Fatal(err)
			}
			curve[i], third[i] = value(t, f, "test-curve"), value(t, f, "third-load")
		}
		if lost := 1 - curve[1]/curve[0]; lost < tc.least || lost > tc.most {
			t.Errorf("line %s: a ring fewer takes off %.1f %%", tc.line, 100*lost)
		}
		if lost := 1 - third[1]/third[0]; math.Abs(lost) > 0.01 {
			t.Errorf("line %s: the third load loses %.1f %%", tc.line, 100*lost)
		}
	}
}

// TestCastLead holds that the lead told takes seven tenths of the energy: of
// two masses that take up one energy in the ratio of the masses, that is 7 to 3.
func TestCastLead(t *testing.T) {
	f := evaluated(t, plainRod(t, 100, eight...))
	lead, mass := value(t, f, "cast-lead"), value(t, f, "cast-mass")
	if share := lead / (lead + mass); math.Abs(share-0.7) > 1e-9 {
		t.Errorf("with %g kg the cast share would be %g", lead, share)
	}
}
