package say

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// shift is a change of a figure that scatters by a thousandth.
func shift(key, unit string, old, now float64) diffing.Shift {
	return scattering(key, unit, old, now, 1e-3*math.Abs(old))
}

// scattering is a change of a figure that scatters by so much.
func scattering(key, unit string, old, now, tolerance float64) diffing.Shift {
	side := func(value, effect float64) *evaluate.Figures {
		part := evaluate.Part{Value: value, Minus: []float64{-effect}, Plus: []float64{effect}}
		tolerances := &evaluate.Tolerances{
			Inputs:  []evaluate.Input{{ID: evaluate.InputID{Kind: evaluate.MassInput}}},
			Spreads: map[string]*evaluate.Spread{key: {Effects: part.Plus, Parts: []evaluate.Part{part}}},
		}
		return &evaluate.Figures{
			List:       []evaluate.Figure{{Key: key, Unit: unit, Value: value}},
			Tolerances: func() *evaluate.Tolerances { return tolerances },
		}
	}
	shifts := diffing.Figures(side(old, 0), side(now, tolerance), nil)
	return shifts[0]
}

// A sentence has no gap left in it, ends as one and begins as one.
var sentence = regexp.MustCompile(`^[A-Z][^{}]*\.$`)

func TestEveryFigureAndDirection(t *testing.T) {
	for _, units := range []string{"metric", "imperial", "both"} {
		teller := Teller{Words: English(), Display: figures.Display{Units: units, Currency: "EUR"}}
		for _, f := range figures.All() {
			said := map[string]bool{}
			for direction, now := range map[string]float64{"up": 13, "down": 9, "same": 12} {
				s := scattering(f.Key, f.Unit, 12, now, (now-12)/1e3)
				if got := Way(s); got != direction {
					t.Fatalf("%s: %v is %s", f.Key, s.Change, got)
				}
				text := teller.Shift(s)
				if !sentence.MatchString(text) {
					t.Errorf("%s %s: %q", f.Key, direction, text)
				}
				if said[text] {
					t.Errorf("%s: two directions say %q", f.Key, text)
				}
				said[text] = true
				if number := strings.ContainsAny(text, "0123456789"); number != (direction != "same") {
					t.Errorf("%s %s: a number in %q: %v", f.Key, direction, text, number)
				}
			}
			if text := teller.Meaning(f.Key, "12 x"); !sentence.MatchString(text) && !strings.Contains(text, ". ") || !strings.Contains(text, "12 x") {
				t.Errorf("%s: %q", f.Key, text)
			}
			if teller.Name(f.Key) != figures.Short(f.Key) {
				t.Errorf("%s is called %q", f.Key, teller.Name(f.Key))
			}
		}
	}
}

func TestShift(t *testing.T) {
	tests := []struct {
		name     string
		key      string
		unit     string
		old, new float64
		want     string
	}{
		{"a sheet and a half", "weight", "kg", 0.1881, 0.1806, "It is 7.5 g lighter, about what a sheet and a half of A4 paper weighs."},
		{"a few sheets", "weight", "kg", 0.1903, 0.1654, "It is 24.9 g lighter, about what five sheets of A4 paper weigh."},
		{"eggs", "weight", "kg", 0.300, 0.181, "It is 119.0 g lighter, about what two hen's eggs weigh."},
		{"no number of sheets", "weight", "kg", 0.1659, 0.1692, "It is 3.3 g heavier."},
		{"nothing near", "weight", "kg", 0.1600, 0.1616, "It is 1.6 g heavier."},
		{"swings", "recovery", "Hz", 3.0, 3.1, "It recovers faster: 3.10 Hz instead of 3.00 Hz, one more swing in every 30."},
		{"fewer swings", "recovery", "Hz", 3.0, 2.8, "It recovers more slowly: 2.80 Hz instead of 3.00 Hz, one fewer swing in every 15."},
		{"counted", "rings", "1", 9, 8, "It has fewer rings: 8 instead of 9, not counting the tip ring."},
		{"a share of it", "swing", "kg·m²", 0.110, 0.097, "It is 12 % easier to swing."},
		{"no real change", "third-load", "N", 2.2, 2.2001, "It has as much power as before."},
	}
	teller := Teller{Words: English(), Display: figures.Display{Units: "metric"}}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := teller.Shift(shift(test.key, test.unit, test.old, test.new)); got != test.want {
				t.Errorf("got  %s\nwant %s", got, test.want)
			}
		})
	}
}

// A sentence that says which way a figure went gives the change no sign.
func TestShiftInTwoUnits(t *testing.T) {
	teller := Teller{Words: English(), Display: figures.Display{Units: "both"}}
	for change, want := range map[float64]string{
		+0.0016: "It is 1.6 g (0.06 oz) heavier.", -0.0016: "It is 1.6 g (0.06 oz) lighter.",
	} {
		if got := teller.Shift(shift("weight", "kg", 0.180, 0.180+change)); got != want {
			t.Errorf("got  %s\nwant %s", got, want)
		}
	}
}

func TestShows(t *testing.T) {
	teller := Teller{Words: English(), Display: figures.Display{Units: "metric"}}
	oneSided := shift("line-touch", "m", 1, 2)
	oneSided.Old = nil
	tests := []struct {
		name  string
		shift diffing.Shift
		want  bool
	}{
		{"a real change", shift("weight", "kg", 0.180, 0.190), true},
		{"no real change", shift("weight", "kg", 0.180, 0.1801), false},
		{"below the digits, and on either side of a rounding", scattering("tip-stiffness", "N/m", 2.097, 2.094, 1e-5), false},
		{"below the digits", scattering("recovery", "Hz", 3, 3.001, 1e-5), false},
		{"one side", oneSided, false},
	}
	for _, test := range tests {
		if got := teller.Shows(test.shift); got != test.want {
			t.Errorf("%s: %v", test.name, got)
		}
	}
}

func TestFelt(t *testing.T) {
	teller := Teller{Words: English(), Display: figures.Display{Units: "metric"}}
	for change, want := range map[float64]bool{0.002: true, -0.002: true, 0.0015: false, 0: false} {
		if got := teller.Felt(shift("weight", "kg", 0.180, 0.180+change)); got != want {
			t.Errorf("%+.1f g of 180 g: %v", 1e3*change, got)
		}
	}
	if !teller.Felt(shift("line-touch", "m", 0, 0.1)) {
		t.Error("what was not there before is not felt")
	}
}

// A4 is an A0, of one square metre, halved four times (ISO 216:2007, 3.2), and
// the grammage that paper is sold by is the mass of a square metre (ISO 536).
func TestSheet(t *testing.T) {
	const a0, grammage = 1.0, 0.080 // m², kg/m²
	if got, want := sheet, grammage*a0/math.Pow(2, 4); math.Abs(got-want) > 1e-12 {
		t.Errorf("a sheet of A4 weighs %v kg, want %v", got, want)
	}
	// The standard rounds its sides to whole millimetres, 210 × 297.
	if cut := 0.210 * 0.297 * grammage; math.Abs(cut-sheet) > 0.005*sheet {
		t.Errorf("a sheet as cut weighs %v kg, and %v is taken", cut, sheet)
	}
}

func TestHonestComparisons(t *testing.T) {
	teller := Teller{Words: English()}
	inWords := map[string]float64{"a half": 3, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10}
	for grams := 0.1; grams < 300; grams *= 1.003 {
		like := teller.likeMass(grams / 1e3)
		if like == "" {
			continue
		}
		n := 1.0
		for word, of := range inWords {
			if strings.Contains(like, " "+word+" ") {
				n = of
			}
		}
		each := map[string]float64{"egg": 60, "half": 2.5, "sheet": 5}
		for word, mass := range each {
			if word == "sheet" && strings.Contains(like, "half") || !strings.Contains(like, word) {
				continue
			}
			if off := math.Abs(n*mass-grams) / grams; off > 0.1+1e-9 {
				t.Errorf("%.2f g: %q is off by %.0f %%", grams, like, 100*off)
			}
		}
	}
}

func TestComma(t *testing.T) {
	w := mustRead(t, "decimal: comma\n")
	teller := Teller{Words: w, Display: w.Display(models.DefaultSettings())}
	got := teller.Shift(shift("weight", "kg", 0.1600, 0.1616))
	if want := "It is 1,6 g heavier."; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func mustRead(t *testing.T, src string) *Words {
	t.Helper()
	w, err := Read("words.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func TestList(t *testing.T) {
	for want, items := range map[string][]string{
		"": nil, "a": {"a"}, "a and b": {"a", "b"}, "a, b and c": {"a", "b", "c"}, "a, b, c and d": {"a", "b", "c", "d"},
	} {
		if got := English().List(items); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// The forms of Polish are those of the Unicode Common Locale Data Repository,
// cardinal rules: one for 1, few for 2 to 4, many for 5.
func TestCountInAnotherLanguage(t *testing.T) {
	w, err := read("words.yaml", []byte("language: pl\nrings: {one: \"{n} przelotka\", few: \"{n} przelotki\", many: \"{n} przelotek\", other: \"{n} przelotki\"}\n"))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, n := range []int{1, 3, 5, 22} {
		got = append(got, w.Count("rings", n))
	}
	want := []string{"1 przelotka", "3 przelotki", "5 przelotek", "22 przelotki"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
