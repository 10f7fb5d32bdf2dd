package units

import (
	"fmt"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// within is a relative tolerance.
func within(got, want, tolerance float64) bool {
	return math.Abs(got-want) <= tolerance*math.Abs(want)
}

func TestConversionsAgainstPublishedFactors(t *testing.T) {
	const nist = "NIST SP 811 (2008), appendix B"
	for _, tt := range []struct {
		text      string
		dim       *Dimension
		want      float64
		tolerance float64 // half a unit of the last published digit; 0 where the factor is exact
		source    string
	}{
		{"1 in", length, 0.0254, 0, nist + ", exact"},
		{"1 ft", length, 0.3048, 0, nist + ", exact"},
		{"1 lb", mass, 0.45359237, 0, nist + ".9, exact"},
		{"1 oz", mass, 2.834952e-2, 2e-7, nist},
		{"1 kgf", force, 9.80665, 0, "3rd CGPM (1901), standard gravity, exact"},
		{"1 kg", force, 9.80665, 0, "3rd CGPM (1901), standard gravity, exact"},
		{"1 lbf", force, 4.448222, 2e-7, nist},
		{"1 lb", force, 4.4482216152605, 0, nist + ".9: lb times standard gravity, exact"},
		{"1 ozf", force, 0.2780139, 2e-7, nist},
		{"1 psi", stress, 6894.757, 1e-7, nist},
		{"1 ksi", stress, 6894757, 1e-7, nist},
		{"1 Msi", stress, 6894757e3, 1e-7, nist + ", psi times a million"},
		{"1 g/cm3", density, 1000, 0, nist + ", exact"},
		{"1 lb/ft3", density, 16.01846, 4e-7, nist},
		{"1 lb/in3", density, 2.767990e4, 2e-7, nist},
		{"1 oz/in3", density, 1.729994e3, 4e-7, nist},
		{"180 deg", angle, math.Pi, 0, "SI brochure, 9th edition (2019), table 8"},
		{"60 cpm", frequency, 1, 0, "SI brochure, 9th edition (2019): minute"},
		{"1 h", duration, 3600, 0, "SI brochure, 9th edition (2019), table 8"},
		{"1 min", duration, 60, 0, "SI brochure, 9th edition (2019), table 8"},
		{"1 oz/ft", lineDensity, 2.834952e-2 / 0.3048, 2e-7, nist + ", oz by ft"},
		{"1 lbf·in2", rigidity, 4.448222 * 0.0254 * 0.0254, 2e-7, nist + ", lbf by in²"},
		{"1 oz·in2", inertia, 1.828998e-5, 4e-7, nist + ", oz·in²"},
		{"1 lb·ft2", inertia, 4.214011e-2, 2e-7, nist + ", lb·ft²"},
		{"1 lbf/in", stiffness, 175.1268, 4e-7, nist + ", lbf/in"},
		{"16 oz/in", stiffness, 175.1268, 4e-7, nist + ", lbf/in, of 16 oz"},
	} {
		t.Run(tt.text+" as "+tt.dim.name, func(t *testing.T) {
			got, err := Parse(tt.text, tt.dim)
			if err != nil {
				t.Fatal(err)
			}
			if !within(got, tt.want, tt.tolerance) {
				t.Errorf("got %v, want %v by %s", got, tt.want, tt.source)
			}
		})
	}
}

// Every spelling of a quantity must give one float64 to the last bit, or a
// respelling would be a revision.
func TestSpellingsAreTheSameQuantity(t *testing.T) {
	for _, tt := range []struct {
		dim       *Dimension
		want      float64
		spellings []string
	}{
		{length, 3.81, []string{"12 ft 6 in", `12' 6"`, `12'6"`, "12ft6in", "12.5 ft", "12½ ft", "150 in", "3810 mm", "381 cm", "3.81 m", "12 feet 6 inches", "12 ft 6 in", "  12   ft  6  in  ", "12′ 6″", "0.00381 km"}},
		{length, 0.001190625, []string{"3/64 in", `3/64"`, "1.190625 mm"}},
		{length, 1.2319, []string{"48 1/2 in", "48-1/2 in", "48.5 in", "48-½ in"}},
		{length, 2.9083, []string{`9' 6 1/2"`, `9' 6½"`, `9 ft 6.5 in`, "2908.3 mm"}},
		{length, 0.0005, []string{"0.5 mm", ".5 mm", "1/2 mm", "½ mm", "0.05 cm"}},
		{mass, 0.04961166546875, []string{"1 3/4 oz", "1¾ oz", "1.75 oz", "1 ¾ oz", "7/4 oz", "0.109375 lb", "1.75 oz."}},
		{mass, 0.00065, []string{"0.65 g", "650 mg", "0.00065 kg"}},
		{force, 0, []string{"0 N", "0 lb", "-0 N"}},
		{force, 12.232609441966375, []string{"2.75 lb", "2 3/4 lb", "2 lb 12 oz", "44 oz", "2.75 lbf", "2.75 lbs"}},
		{stress, 110e9, []string{"110 GPa", "110000 MPa", "110000000 kPa"}},
		{density, 1550, []string{"1550 kg/m3", "1550 kg/m³", "1550 kg/m^3", "1.55 g/cm3", "1.55 g/cm³"}},
		{lineDensity, 0.009, []string{"9 g/m", "0.009 kg/m"}},
		{rigidity, 0.05, []string{"0.05 N·m2", "0.05 N·m²", "0.05 Nm2", "0.05 N*m^2", "0.05 N.m2"}},
		{angle, math.Pi / 2, []string{"90 deg", "90°", "90", "90 degrees", "90 °"}},
		{angle, -math.Pi / 4, []string{"-45 deg", "−45°", "- 45"}},
		{frequency, 2.5, []string{"2.5 Hz", "150 cpm", "150 per minute"}},
		{duration, 5400, []string{"90 min", "1 h 30 min", "1.5 h", "5400 s"}},
		{share, 0.03, []string{"3 %", "3%", "3.0 %"}},
		{Ratio, 0.28, []string{"0.28", ".28", "28 %", "7/25"}},
		{money, 2.4, []string{"2.40", "2.4", "2.40 EUR", "2.40 USD"}},
	} {
		for _, text := range tt.spellings {
			t.Run(text, func(t *testing.T) {
				got, err := Parse(text, tt.dim)
				if err != nil {
					t.Fatal(err)
				}
				if got != tt.want {
					t.Errorf("got %v, want %v", got, tt.want)
				}
			})
		}
	}
}

func TestQuantitiesRefused(t *testing.T) {
	for _, tt := range []struct {
		text string
		dim  *Dimension
		want string
	}{
		{"12", length, `"12" has no unit; write it with one, such as 12 mm`},
		{"12", share, `"12" has no unit; expected a share such as 3 %`},
		{"9 ft 6", length, `"9 ft 6" has no unit at its end; write one after the last number too`},
		{"5 oz", length, `"5 oz" is a mass; expected a length such as 25 mm`},
		{"5 lbf", mass, `"5 lbf" is a force; expected a mass such as 12 g`},
		{"5 N", stress, `"5 N" is a force; expected a modulus such as 110 GPa`},
		{"1,5 mm", length, `"1,5 mm" has a comma; write 1.5 mm with a point`},
		{"1,500 mm", length, `"1,500 mm" has a comma; write 1.500 mm with a point or 1500 mm without`},
		{"NaN mm", length, `"NaN mm" is not a finite number; expected a length such as 25 mm`},
		{".inf", length, `".inf" is not a finite number; expected a length such as 25 mm`},
		{"+Inf", length, `"+Inf" is not a finite number; expected a length such as 25 mm`},
		{"∞ mm", length, `"∞ mm" is not a finite number; expected a length such as 25 mm`},
		{"1e400 mm", length, `"1e400 mm" has an exponent; write the number out`},
		{"1E-3 m", length, `"1E-3 m" has an exponent; write the number out`},
		{"1/0 in", length, `"1/0 in" divides by zero`},
		{"1/00 in", length, `"1/00 in" divides by zero`},
		{"1 1/0 in", length, `"1 1/0 in" divides by zero`},
		{"1/ in", length, `"1/ in" does not begin with a number; expected a length such as 25 mm`},
		{"mm", length, `"mm" does not begin with a number; expected a length such as 25 mm`},
		{"+5 mm", length, `"+5 mm" does not begin with a number; expected a length such as 25 mm`},
		{"-", length, `"-" does not begin with a number; expected a length such as 25 mm`},
		{"--5 mm", length, `"--5 mm" does not begin with a number; expected a length such as 25 mm`},
		{"5 furlongs", length, `"5 furlongs" has an unknown unit "furlongs"; expected a length such as 25 mm`},
		{"5 MM", length, `"5 MM" has an unknown unit "MM"; did you mean mm?`},
		{"5 gpa", stress, `"5 gpa" has an unknown unit "gpa"; did you mean GPa?`},
		{"6 in 9 ft", length, `"6 in 9 ft" has its units in the wrong order; the larger comes first, as in 12 ft 6 in`},
		{"5 mm 6 mm", length, `"5 mm 6 mm" has its units in the wrong order; the larger comes first, as in 12 ft 6 in`},
		{"1.5 ft 6 in", length, `"1.5 ft 6 in" has a fraction before the last unit; only the last number may have one`},
		{"2 lb 3 N", force, `"2 lb 3 N" mixes a mass and a force`},
		{"1_000 mm", length, `"1_000 mm" has an unknown unit "_000"; expected a length such as 25 mm`},
		{"5 fl oz", mass, `"5 fl oz" has an unknown unit "fl"; expected a mass such as 12 g`},
		{"2.40 euro", money, `"2.40 euro" has an unknown unit "euro"; expected a price such as 2.40`},
		{"25\tmm", length, `"25\tmm" has a tab or line break in it; expected a length such as 25 mm`},
		{"", length, `is empty; expected a length such as 25 mm`},
	} {
		t.Run(tt.text, func(t *testing.T) {
			got, err := Parse(tt.text, tt.dim)
			if err == nil {
				t.Fatalf("read as %v", got)
			}
			if err.Error() != tt.want {
				t.Errorf("got  %v\nwant %s", err, tt.want)
			}
		})
	}
}

// A number written in any unit must come back as number times size, rounded
// once.
func TestNumberTimesUnit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(unitList).Draw(t, "unit")
		symbol := rapid.SampledFrom(u.symbols).Draw(t, "symbol")
		digits := rapid.Int64Range(0, 1e12).Draw(t, "digits")
		places := rapid.IntRange(0, 6).Draw(t, "places")
		number := big.NewRat(digits, int64(math.Pow10(places)))
		text := fmt.Sprintf("%s %s", number.FloatString(places), symbol)
		got, err := Parse(text, u.dim)
		if err != nil {
			t.Fatal(err)
		}
		want, _ := number.Mul(number, u.size).Float64()
		if got != want {
			t.Errorf("%s: got %v, want %v", text, got, want)
		}
	})
}

// A mixed number of feet, inches and sixteenths must be the sum of its terms.
func TestMixedNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		feet := rapid.Int64Range(0, 20).Draw(t, "feet")
		inches := rapid.Int64Range(0, 11).Draw(t, "inches")
		parts := rapid.Int64Range(1, 15).Draw(t, "sixteenths")
		form := rapid.SampledFrom([]string{"%d ft %d %d/16 in", "%d' %d %d/16\"", "%dft %d %d/16 in"}).Draw(t, "form")
		got, err := Parse(fmt.Sprintf(form, feet, inches, parts), length)
		if err != nil {
			t.Fatal(err)
		}
		sixteenths := (feet*12+inches)*16 + parts
		want, _ := new(big.Rat).Mul(big.NewRat(sixteenths, 16), exact("0.0254")).Float64()
		if got != want {
			t.Errorf("got %v, want %v", got, want)
		}
	})
}

// FuzzParse looks for panics and for values that are no number.
func FuzzParse(f *testing.F) {
	for _, text := range []string{"12 ft 6 in", "1 3/4 oz", "1¾ oz", `9' 6 1/2"`, "1/0 in", "-0.0 mm", "1,5 mm", "nan", "+", "-", "5 per minute", "½½ in", "1e9", "°", "1 /2 mm", "99999999999999999999999999999999999999 km"} {
		f.Add(text)
	}
	dims := []*Dimension{length, mass, force, stress, density, lineDensity, rigidity, angle, frequency, duration, share, Ratio, money, inertia, stiffness}
	f.Fuzz(func(t *testing.T, text string) {
		for _, d := range dims {
			v, err := Parse(text, d)
			if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
				t.Errorf("%q read as %v", text, v)
			}
		}
	})
}

func BenchmarkParse(b *testing.B) {
	for _, text := range []string{"25 mm", "0.65 mm", "12 ft 6 1/2 in"} {
		b.Run(text, func(b *testing.B) {
			for b.Loop() {
				if _, err := Parse(text, length); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
