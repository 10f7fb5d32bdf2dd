package laminate_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rodlore/evaluate/laminate"
)

// Laminae of the first World-Wide Failure Exercise: Soden, Hinton and Kaddour
// 1998, Compos. Sci. Technol. 58, 1011–1022; from memory. Densities and thicknesses
// are assumed, not from there.
var (
	as4 = laminate.Lamina{E1: 126e9, E2: 11e9, G12: 6.6e9, Nu12: 0.28, Density: 1580, Thickness: 0.125e-3,
		StrainCompression: 0.01175, StrainTension: 0.0138}
	t300 = laminate.Lamina{E1: 138e9, E2: 11e9, G12: 5.5e9, Nu12: 0.28, Density: 1570, Thickness: 0.125e-3,
		StrainCompression: 0.00652, StrainTension: 0.01087}
	ly556 = laminate.Lamina{E1: 53.48e9, E2: 17.7e9, G12: 5.83e9, Nu12: 0.278, Density: 2000, Thickness: 0.1e-3,
		StrainCompression: 0.01065, StrainTension: 0.02132}
	my750 = laminate.Lamina{E1: 45.6e9, E2: 16.2e9, G12: 5.83e9, Nu12: 0.278, Density: 2000, Thickness: 0.1e-3,
		StrainCompression: 0.01754, StrainTension: 0.02807}
)

// flat is a mandrel so wide that the wall of a tube on it is a flat laminate.
const flat = 1e4

// rounding is for values that differ only by the order of the arithmetic.
const rounding = 1e-11

func lay(t testing.TB, l laminate.Lamina, angle, wraps float64) laminate.Ply {
	t.Helper()
	p, err := l.Ply(angle)
	if err != nil {
		t.Fatal(err)
	}
	p.Wraps = wraps
	return p
}

func roll(t testing.TB, mandrel float64, plies []laminate.Ply) laminate.Section {
	t.Helper()
	s, err := laminate.Roll(mandrel, plies)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// reporter is *testing.T or *rapid.T.
type reporter interface {
	Helper()
	Errorf(format string, args ...any)
}

func near(t reporter, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s is %.12g, want %.12g within %g of it", what, got, want, tol)
	}
}

// isolated adds up the plies as tubes that do not hold each other.
func isolated(t testing.TB, mandrel float64, plies []laminate.Ply) (ei, ea float64) {
	t.Helper()
	for i := range plies {
		alone := roll(t, mandrel, plies[i:i+1])
		ei += alone.EI
		ea += alone.EA
		mandrel = alone.Outside
	}
	return ei, ea
}

// second is the second moment of area of a tube, written out as handbooks do.
func second(outside, inside float64) float64 {
	return math.Pi / 64 * (math.Pow(outside, 4) - math.Pow(inside, 4))
}

// reference is one row of testdata/laminate.csv; see the README there.
type reference struct {
	name    string
	plies   string
	columns map[string]float64
}

func references(t *testing.T) []reference {
	t.Helper()
	f, err := os.Open("testdata/laminate.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var list []reference
	for _, row := range rows[1:] {
		r := reference{row[0], row[1], map[string]float64{}}
		for i := 2; i < len(row); i++ {
			r.columns[rows[0][i]] = number(t, row[i])
		}
		list = append(list, r)
	}
	return list
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// build makes the plies, turned by an angle (rad). Strain limits are left out.
func (r reference) build(t *testing.T, turn float64) []laminate.Ply {
	t.Helper()
	laminae := map[string]laminate.Lamina{"AS4_3501-6": as4, "Eglass_MY750": my750}
	var plies []laminate.Ply
	for text := range strings.FieldsSeq(r.plies) {
		part := strings.Split(text, "/")
		l, ok := laminae[part[0]]
		if !ok {
			t.Fatalf("no lamina %q", part[0])
		}
		l.Thickness = number(t, part[2]) / 1e3
		plies = append(plies, lay(t, l, number(t, part[1])*math.Pi/180+turn, 1))
	}
	return plies
}

func TestReference(t *testing.T) {
	list := references(t)
	if len(list) != 3 {
		t.Fatalf("%d reference tubes, want 3", len(list))
	}
	for _, r := range list {
		t.Run(r.name, func(t *testing.T) {
			want := r.columns
			mandrel := want["inner_radius_mm"] * 2e-3
			plies := r.build(t, 0)
			s := roll(t, mandrel, plies)
			near(t, "wall", s.Wall, want["wall_mm"]/1e3, rounding)
			near(t, "EI", s.EI, want["ei_common_Nm2"], rounding)
			near(t, "mass", s.Mu, want["mu_kg_per_m"], rounding)

			ei, ea := isolated(t, mandrel, plies)
			near(t, "EI of isolated plies", ei, want["ei_isolated_Nm2"], rounding)
			near(t, "EA of isolated plies", ea, want["ea_isolated_N"], rounding)
		})
	}
}

// The laminate's own constants and the two variants made of them: on the flat
// mandrel, wall over radius is 2e-7, which is the tolerance.
func TestReferenceFlat(t *testing.T) {
	const tol = 2e-7
	for _, r := range references(t) {
		t.Run(r.name, func(t *testing.T) {
			want := r.columns
			s := roll(t, flat, r.build(t, 0))
			near(t, "Ex", s.Modulus, want["ex_GPa"]*1e9, tol)
			near(t, "Gxy", s.GJ/(2*second(s.Outside, s.Inside)), want["gxy_GPa"]*1e9, 1e-6) // D⁴ − d⁴ loses digits
			near(t, "Ey", roll(t, flat, r.build(t, math.Pi/2)).Modulus, want["ey_GPa"]*1e9, tol)

			inside := want["inner_radius_mm"] * 2e-3
			near(t, "EI, smeared", s.Modulus*second(inside+2*s.Wall, inside), want["ei_smeared_Nm2"], tol)
			near(t, "EI, thin wall", s.Modulus*math.Pi*math.Pow((inside+s.Wall)/2, 3)*s.Wall, want["ei_thin_Nm2"], tol)
		})
	}
}

// A hoop ply's fibres feel the laminate's Poisson contraction, so with limits
// on nothing else the allowed compression is the ply's limit in tension over ν.
func TestReferencePoisson(t *testing.T) {
	for _, r := range references(t) {
		t.Run(r.name, func(t *testing.T) {
			plies := r.build(t, 0)
			gauge := as4
			gauge.Thickness *= 1e-9 // too thin to change the laminate
			gauge.StrainTension, gauge.StrainCompression = 1e-6, math.Inf(1)
			plies = append(plies, lay(t, gauge, math.Pi/2, 1))
			s := roll(t, flat, plies)
			near(t, "ν", 1e-6/s.AllowCompression, r.columns["nuxy"], 1e-6)
		})
	}
}

// A tube of 0° plies, however they are split, is E1 times the handbook's
// second moment of area; it stretches with E1 and twists with G12.
func TestUnidirectional(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		mandrel := rapid.Float64Range(0.5e-3, 30e-3).Draw(rt, "mandrel")
		wraps := rapid.SliceOfN(rapid.Float64Range(0.1, 6), 1, 6).Draw(rt, "wraps")
		var plies []laminate.Ply
		d := mandrel
		for _, w := range wraps {
			plies = append(plies, lay(t, t300, 0, w))
			d += 2 * w * t300.Thickness
		}
		s := roll(t, mandrel, plies)
		area := math.Pi / 4 * (d*d - mandrel*mandrel)
		near(rt, "outside", s.Outside, d, rounding)
		// The handbook's difference of fourth powers loses digits on thin walls.
		near(rt, "EI", s.EI, t300.E1*second(d, mandrel), 1e-9)
		near(rt, "modulus", s.Modulus, t300.E1, rounding)
		near(rt, "EA", s.EA, t300.E1*area, 1e-9)
		near(rt, "GJ", s.GJ, t300.G12*2*second(d, mandrel), 1e-9)
		near(rt, "mass", s.Mu, t300.Density*area, 1e-9)
	})
}

// An isotropic lamina has no direction: any angles give the tube of the same
// metal, and the hoop modulus is E/(1−ν²).
func TestIsotropic(t *testing.T) {
	const e, nu = 110e9, 0.34 // about titanium's
	metal := laminate.Lamina{E1: e, E2: e, G12: e / (2 * (1 + nu)), Nu12: nu, Density: 4500, Thickness: 0.1e-3,
		StrainCompression: 0.007, StrainTension: 0.008}
	rapid.Check(t, func(rt *rapid.T) {
		angles := rapid.SliceOfN(rapid.Float64Range(-math.Pi, math.Pi), 1, 8).Draw(rt, "angles")
		var plies []laminate.Ply
		for _, a := range angles {
			plies = append(plies, lay(t, metal, a, 1))
		}
		s := roll(t, 8e-3, plies)
		near(rt, "EI", s.EI, e*second(s.Outside, s.Inside), 1e-9)
		near(rt, "GJ", s.GJ, metal.G12*2*second(s.Outside, s.Inside), 1e-9)
		near(rt, "hoop modulus", s.HoopModulus, e/(1-nu*nu), 1e-9)
	})
}

// Quasi-isotropic laminates of T300/5208 (E1 181, E2 10.3, G12 7.17 GPa, ν12
// 0.28): E 69.68, G 26.88 GPa in Tsai and Hahn 1980, "Introduction to Composite
// Materials", table of quasi-isotropic constants; from memory. They follow from
// the invariants, so every such set of angles, turned anyhow, has them.
func TestQuasiIsotropic(t *testing.T) {
	l := laminate.Lamina{E1: 181e9, E2: 10.3e9, G12: 7.17e9, Nu12: 0.28, Density: 1600, Thickness: 0.125e-3,
		StrainCompression: 0.008, StrainTension: 0.008}
	for _, degrees := range [][]float64{{0, 60, -60}, {0, 45, 90, -45}, {10, 70, -50}, {0, 36, 72, 108, 144}} {
		var plies []laminate.Ply
		for _, d := range degrees {
			plies = append(plies, lay(t, l, d*math.Pi/180, 1))
		}
		s := roll(t, flat, plies)
		near(t, "E", s.Modulus, 69.68e9, 1e-4) // printed to four digits
		near(t, "G", s.GJ/(2*second(s.Outside, s.Inside)), 26.88e9, 2e-4)
	}
}

// Looked at from the other side, every helix has the other hand.
func TestMirror(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		plies, mirrored := drawPlies(t, rt, 1), []laminate.Ply(nil)
		for _, p := range plies {
			mirrored = append(mirrored, lay(t, p.lamina, -p.angle, p.wraps))
		}
		a, b := roll(t, 6e-3, laid(t, plies)), roll(t, 6e-3, mirrored)
		near(rt, "EI", b.EI, a.EI, rounding)
		near(rt, "EA", b.EA, a.EA, rounding)
		near(rt, "GJ", b.GJ, a.GJ, rounding)
		near(rt, "hoop modulus", b.HoopModulus, a.HoopModulus, rounding)
		near(rt, "allowed compression", b.AllowCompression, a.AllowCompression, rounding)
	})
}

// drawn is a ply before it is laid.
type drawn struct {
	lamina       laminate.Lamina
	angle, wraps float64
}

func drawPlies(t *testing.T, rt *rapid.T, least int) []drawn {
	t.Helper()
	one := rapid.Custom(func(rt *rapid.T) drawn {
		return drawn{
			rapid.SampledFrom([]laminate.Lamina{as4, t300, ly556, my750}).Draw(rt, "lamina"),
			rapid.Float64Range(-math.Pi/2, math.Pi/2).Draw(rt, "angle"),
			rapid.Float64Range(0.2, 4).Draw(rt, "wraps"),
		}
	})
	return rapid.SliceOfN(one, least, 7).Draw(rt, "plies")
}

func laid(t *testing.T, list []drawn) []laminate.Ply {
	t.Helper()
	var plies []laminate.Ply
	for _, d := range list {
		plies = append(plies, lay(t, d.lamina, d.angle, d.wraps))
	}
	return plies
}

// More of any ply makes the tube heavier, thicker and stiffer in every way.
func TestMoreWraps(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		mandrel := rapid.Float64Range(1e-3, 15e-3).Draw(rt, "mandrel")
		plies := laid(t, drawPlies(t, rt, 1))
		before := roll(t, mandrel, plies)
		i := rapid.IntRange(0, len(plies)-1).Draw(rt, "which")
		plies[i].Wraps += rapid.Float64Range(0.05, 2).Draw(rt, "more")
		after := roll(t, mandrel, plies)
		for _, v := range []struct {
			name          string
			before, after float64
		}{
			{"outside", before.Outside, after.Outside},
			{"mass", before.Mu, after.Mu},
			{"EI", before.EI, after.EI},
			{"EA", before.EA, after.EA},
			{"GJ", before.GJ, after.GJ},
		} {
			if !(v.after > v.before) {
				rt.Errorf("%s went from %v to %v with more wraps of ply %d", v.name, v.before, v.after, i+1)
			}
		}
	})
}

// A ply of no wraps takes no part, whatever it is; one ply laid twice half as
// thick is the same ply.
func TestSplit(t *testing.T) {
	whole := roll(t, 6e-3, []laminate.Ply{lay(t, as4, 0, 3), lay(t, my750, 1.2, 1.5)})
	split := roll(t, 6e-3, []laminate.Ply{lay(t, as4, 0, 1.25), lay(t, ly556, 0.3, 0), lay(t, as4, 0, 1.75),
		lay(t, my750, 1.2, 0.75), lay(t, my750, 1.2, 0.75)})
	near(t, "EI", split.EI, whole.EI, rounding)
	near(t, "GJ", split.GJ, whole.GJ, rounding)
	near(t, "hoop modulus", split.HoopModulus, whole.HoopModulus, rounding)
	near(t, "allowed compression", split.AllowCompression, whole.AllowCompression, rounding)
}

// A pattern cut w wide and rolled up weighs w × thickness × density per length,
// whatever number of turns it makes. Turn by turn, each round its own mean
// circumference, the cut width of n whole turns is 2π·Σ(r + t/2 + i·t).
func TestMassIsThatOfTheCutPattern(t *testing.T) {
	const mandrel, turns = 3e-3, 7
	width := 0.0
	for i := range turns {
		width += 2 * math.Pi * (mandrel/2 + as4.Thickness*(float64(i)+0.5))
	}
	s := roll(t, mandrel, []laminate.Ply{lay(t, as4, 0, turns)})
	near(t, "mass", s.Mu, width*as4.Thickness*as4.Density, rounding)
}

func TestNoAllocation(t *testing.T) {
	plies := []laminate.Ply{lay(t, as4, 0, 3), lay(t, my750, math.Pi/2, 1)}
	if n := testing.AllocsPerRun(100, func() { _, _ = laminate.Roll(5e-3, plies) }); n != 0 {
		t.Errorf("Roll allocates %v times", n)
	}
}
