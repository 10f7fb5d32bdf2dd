package models_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/evaluate/figures"
	"rodlore/models"
	"rodlore/models/units"
)

func TestMaterialsOverTheBuiltIn(t *testing.T) {
	_, materials := goodShared(t)
	for _, tt := range []struct {
		name, what string
		got, want  any
	}{
		{"cork", "density of the range", materials.Get("cork").Density.Value, units.Density(210)},
		{"cork", "no longer built in", materials.Get("cork").Builtin, false},
		{"cork", "line in the file", materials.Get("cork").Pos, models.Pos{File: "materials.yaml", Line: 2, Col: 1}},
		{"steel", "built in", materials.Get("steel").Builtin, true},
		{"steel", "no position", materials.Get("steel").Density.Pos, models.Pos{}},
		{"carbon-30t", "no source", materials.Get("carbon-30t").Source, ""},
	} {
		t.Run(tt.name+" "+tt.what, func(t *testing.T) {
			if tt.got != tt.want {
				t.Errorf("got %v, want %v", tt.got, tt.want)
			}
		})
	}
	if materials.Get("unobtainium") != nil {
		t.Error("found a material that is not there")
	}
}

// What a range does not give of a built-in material stays, and one range's
// values do not leak into the next.
func TestMaterialPartlyOverridden(t *testing.T) {
	first, err := models.ParseMaterials("materials.yaml", []byte("steel: {modulus: 200 GPa}\n"))
	if err != nil {
		t.Fatal(err)
	}
	if got := first.Get("steel").Density.Value; got != 7930 {
		t.Errorf("density %v, want the built-in 7930", got)
	}
	second, err := models.ParseMaterials("", nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := second.Get("steel").Modulus.Value; got != 193e9 {
		t.Errorf("another range sees the modulus %v, want the built-in 193e9", got)
	}
}

// Laminae of the first world-wide failure exercise: P. D. Soden, M. J. Hinton
// and A. S. Kaddour 1998, Compos. Sci. Technol. 58:1011, table 1 (values by a
// second-hand copy; the paper was not at hand).
func TestBuiltinLaminaeAgainstPublished(t *testing.T) {
	materials, err := models.ParseMaterials("", nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name             string
		e1, e2, g12, v12 float64 // GPa, 1
	}{
		{"wwfe-carbon-1", 126, 11, 6.6, 0.28},
		{"wwfe-carbon-2", 138, 11, 5.5, 0.28},
		{"wwfe-glass-1", 53.48, 17.7, 5.83, 0.278},
		{"wwfe-glass-2", 45.6, 16.2, 5.83, 0.278},
	} {
		m := materials.Get(tt.name)
		got := [4]float64{float64(m.E1.Value) / 1e9, float64(m.E2.Value) / 1e9, float64(m.G12.Value) / 1e9, float64(m.Nu12.Value)}
		want := [4]float64{tt.e1, tt.e2, tt.g12, tt.v12}
		for i := range got {
			if math.Abs(got[i]-want[i]) > 1e-12*want[i] { // the division by 1e9
				t.Errorf("%s: got %v, want %v", tt.name, got, want)
			}
		}
	}
}

// A built-in material that is wrong by a slip of a unit would spoil every range
// that trusts it, so each must lie within what is physically possible.
func TestBuiltinMaterialsArePlausible(t *testing.T) {
	materials, err := models.ParseMaterials("", nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range materials.All {
		if m.Source == "" {
			t.Errorf("%s has no source", m.Name)
		}
		if !m.Density.Set() || m.Density.Value < 100 || m.Density.Value > 9000 {
			t.Errorf("%s: density %v", m.Name, m.Density.Value)
		}
		if !m.E1.Set() {
			continue
		}
		// Thermodynamics bounds ν12 by √(E1/E2) (Lempriere 1968, AIAA J. 6:2226).
		if nu := float64(m.Nu12.Value); nu*nu >= float64(m.E1.Value/m.E2.Value) {
			t.Errorf("%s: poisson %v is impossible", m.Name, nu)
		}
		if m.E1.Value < m.E2.Value {
			t.Errorf("%s is stiffer across than along", m.Name)
		}
	}
}

func TestSettings(t *testing.T) {
	got, err := models.ParseSettings("range.yaml", read(t, "good/range.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	type settings struct {
		Maker, Units, Currency, Line, Wall, Outside string
		Turn, Bench, Factor, Damping, Moves         float64
		Rings, ButtRings                            int
	}
	want := settings{
		Maker: "Saltmarsh Rods", Units: "metric", Currency: "EUR", Line: "from tip ring",
		Wall: "0.04 mm", Outside: "0.05 mm", // the first is the built-in
		Turn: 80 * math.Pi / 180, Bench: 0.980665, Factor: 2.5, Damping: 0.012, Moves: 0.1016,
		Rings: 2, ButtRings: 1, // the second is the built-in
	}
	is := settings{
		got.Maker.Text, got.Units, got.Currency.Text, got.TestCurve.Line, got.Tolerances.Wall.Text, got.Tolerances.Outside.Text,
		float64(got.TestCurve.Turn.Value), float64(got.BenchLoad.Value), got.StrainFactor, float64(got.Damping.Value), float64(got.Steps.ButtRingMoves.Value),
		got.Steps.Rings.Value, got.Steps.ButtRings.Value,
	}
	if diff := cmp.Diff(want, is); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestDefaultSettingsAreComplete(t *testing.T) {
	s := models.DefaultSettings()
	for name, set := range map[string]bool{
		"pull": s.TestCurve.Pull.Set(), "turn": s.TestCurve.Turn.Set(), "bench load": s.BenchLoad.Set(),
		"damping": s.Damping.Set(), "foot bonding": s.FootBonding.Set(),
		"outside": s.Tolerances.Outside.Set(), "wall": s.Tolerances.Wall.Set(), "modulus": s.Tolerances.Modulus.Set(),
		"density": s.Tolerances.Density.Set(), "ring position": s.Tolerances.RingPosition.Set(), "part mass": s.Tolerances.PartMass.Set(),
		"whipping": s.Tolerances.Whipping.Set(), "grip density": s.Tolerances.GripDensity.Set(),
		"time of a ring": s.BenchTimes.Ring.Set(), "time of a foot": s.BenchTimes.Foot.Set(), "time of a tip ring": s.BenchTimes.TipRing.Set(),
		"time of a joint": s.BenchTimes.Joint.Set(), "time of a grip": s.BenchTimes.Grip.Set(), "time of a seat": s.BenchTimes.Seat.Set(),
		"time of a cap": s.BenchTimes.Cap.Set(), "time of varnish": s.BenchTimes.Varnish.Set(),
		"butt ring moves": s.Steps.ButtRingMoves.Set(), "length": s.Steps.Length.Set(), "handle": s.Steps.Handle.Set(),
		"rings": s.Steps.Rings.Value > 0, "butt rings": s.Steps.ButtRings.Value > 0, "sizes": s.Steps.ButtRingSizes.Value > 0,
		"sections": s.Steps.Sections.Value > 0, "joint kind": s.Steps.JointKind.Word != "", "handle shape": s.Steps.HandleShape.Word != "",
		"reel seat": s.Steps.ReelSeat.Word != "", "blank colour": s.Steps.BlankColour.Word != "", "whipping colour": s.Steps.WhippingColour.Word != "",
		"units": s.Units != "", "currency": s.Currency.Text != "", "line": s.TestCurve.Line != "", "factor": s.StrainFactor > 0,
	} {
		if !set {
			t.Errorf("no built-in %s", name)
		}
	}
	if s.BenchLoad.Pos != (models.Pos{}) {
		t.Errorf("a built-in setting stands at %v", s.BenchLoad.Pos)
	}
	s.Units = "imperial"
	if models.DefaultSettings().Units != "metric" {
		t.Error("a caller changed the defaults of all")
	}
}

// TestImperialDefaults has what a maker measures with an inch rule and an ounce
// weight round, where nothing else is said.
func TestImperialDefaults(t *testing.T) {
	for _, row := range []struct{ src, moves, length, handle, bench string }{
		{"", "100 mm", "50 mm", "30 mm", "100 g"},
		{"units: both", "100 mm", "50 mm", "30 mm", "100 g"},
		{"units: imperial", "4 in", "2 in", "1.25 in", "4 oz"},
		{"bench load: 100 g\nsteps: {length: 1 in}\nunits: imperial", "4 in", "1 in", "1.25 in", "100 g"},
	} {
		s, err := models.ParseSettings("range.yaml", []byte(row.src))
		if err != nil {
			t.Fatal(err)
		}
		is := []string{s.Steps.ButtRingMoves.Text, s.Steps.Length.Text, s.Steps.Handle.Text, s.BenchLoad.Text}
		if want := []string{row.moves, row.length, row.handle, row.bench}; !slices.Equal(is, want) {
			t.Errorf("%q: %q, want %q", row.src, is, want)
		}
		if s.Steps.Rings.Value != 1 {
			t.Errorf("%q: %d rings a release, want 1", row.src, s.Steps.Rings.Value)
		}
	}
}

func TestEmptySharedFiles(t *testing.T) {
	for _, src := range []string{"", "# nothing yet\n", "\n", "---\n"} {
		if p, err := models.ParseParts("parts.yaml", []byte(src)); err != nil || len(p.All) != 0 {
			t.Errorf("parts from %q: %v, %v", src, p, err)
		}
		if _, err := models.ParseMaterials("materials.yaml", []byte(src)); err != nil {
			t.Errorf("materials from %q: %v", src, err)
		}
		if _, err := models.ParseSettings("range.yaml", []byte(src)); err != nil {
			t.Errorf("settings from %q: %v", src, err)
		}
	}
}

// Keys and units stand in JSON and in makers' files, so they must not change
// unawares.
func TestFigures(t *testing.T) {
	var got strings.Builder
	for _, f := range figures.All() {
		fmt.Fprintf(&got, "%s %s\n", f.Key, f.Unit)
	}
	golden(t, "figures.txt", got.String())
}

func TestCheckPrices(t *testing.T) {
	parts, _ := goodShared(t)
	for currency, want := range map[string]string{
		"EUR": "",
		"GBP": `parts.yaml:4:172: rings[DL-16].price: "5.20 EUR" is not in GBP, the currency of the range`,
	} {
		got := ""
		if err := (&models.Settings{Currency: models.Word{Text: currency}}).CheckPrices(parts); err != nil {
			got = err.Error()
		}
		if got != want {
			t.Errorf("%s: got %q, want %q", currency, got, want)
		}
	}
}

func TestSigners(t *testing.T) {
	s, err := models.ParseSettings("range.yaml", []byte("signers: [maren@saltmarsh.example, SHA256:abc]\n"))
	if err != nil || len(s.Signers) != 2 || s.Signers[1].Text != "SHA256:abc" || s.Signers[0].Pos.Line != 1 {
		t.Errorf("signers are %+v, %v", s.Signers, err)
	}
	for src, want := range map[string]string{
		"signers: maren\n":     "expected a list of who signs releases",
		"signers: []\n":        "expected a list",
		"signers: [a, b, a]\n": `range.yaml:1:17: signers: "a" is given twice`,
		"signers: [{a: b}]\n":  "expected a list of who signs",
	} {
		if _, err := models.ParseSettings("range.yaml", []byte(src)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gives %v, want %q", src, err, want)
		}
	}
}

// TestSettingsID holds that figures are kept by what the settings mean.
func TestSettingsID(t *testing.T) {
	id := func(src string) string {
		set, err := models.ParseSettings("range.yaml", []byte(src))
		if err != nil {
			t.Fatal(err)
		}
		return set.ID()
	}
	base := "bench load: 100 g\n"
	for src, same := range map[string]bool{
		"# a comment\n\nbench load: 0.1 kg\n":               true,
		base + "maker: Saltmarsh Rods\n":                    true, // no figure hangs on it
		base + "steps: {rings: 2}\n":                        true,
		base + "units: imperial\n":                          false, // sentences are kept with figures
		base + "currency: GBP\n":                            false,
		"bench load: 101 g\n":                               false,
		base + "tolerances: {wall: 0.05 mm}\n":              false,
		base + "bench times: {ring: 11 min}\n":              false,
		base + "test curve: {line: from tip ring}\n":        false,
		base + "strain factor: 3\n":                         false,
		base + "damping: 3 %\n":                             false,
		base + "foot bonding: 30 %\n":                       false,
		base + "test curve: {pull: 90 deg, turn: 84 deg}\n": false,
	} {
		if got := id(src) == id(base); got != same {
			t.Errorf("%q: the same is %v, want %v", src, got, same)
		}
	}
}
