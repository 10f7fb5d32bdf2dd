package models_test

import (
	"bytes"
	"fmt"
	"math/big"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rodlore/models"
)

func TestIdentityStays(t *testing.T) {
	for _, tt := range []struct{ name, model, old, edited string }{
		{"comment", "skerry-10", "length: 10 ft\n", "length: 10 ft   # as ever\n"},
		{"respelt length", "skerry-10", "length: 10 ft", "length: 3048 mm"},
		{"respelt position", "skerry-10", "at: 95 mm", "at: 9.5 cm from tip"},
		{"respelt want", "skerry-10", "weight: at most 205 g", "weight: at most 0.205 kg"},
		{"key of a want with a hyphen", "skerry-10", "test curve:", "test-curve:"},
		{"quotes", "skerry-10", "job: bass and sea trout from rock marks", `job: "bass and sea trout from rock marks"`},
		{"keys in another order", "skerry-10", "name: Skerry 10\njob: bass and sea trout from rock marks\n", "job: bass and sea trout from rock marks\nname: Skerry 10\n"},
		{"wants in another order", "skerry-10", "  weight: at most 205 g\n  test curve: 1.5 lb to 1.8 lb\n", "  test curve: 1.5 lb to 1.8 lb\n  weight: at most 205 g\n"},
		{"flow to block", "skerry-10", "  butt cap: {part: cap-24}", "  butt cap:\n    part: cap-24"},
		{"reel as a map", "skerry-10", "reel: fixed-spool", "reel: {kind: fixed-spool}"},
		{"wraps at either end", "skerry-10", "wraps: 1}", "wraps: {tip: 1, butt: 1.0}}"},
		{"want", "skerry-10", "at most 205 g", "at least 205 g"},
		{"job", "skerry-10", "bass and sea trout", "cod"},
		{"casts", "skerry-10", "casts: 10 g to 40 g", "casts: 10 g to 50 g"},
		{"old name", "long-drift", "was: drifter\n", ""},
		{"joints in another order", "long-drift",
			"  - {between: [middle, tip], kind: ferrule, length: 60 mm, outside: 7 mm, wall: 0.5 mm, material: brass, bonding: 80 %}\n  - {between: [butt, middle], kind: spigot, length: 120 mm, gap: 6 mm, outside: 6.8 mm, material: carbon-30t, mass: 9 g}\n",
			"  - {between: [butt, middle], kind: spigot, length: 120 mm, gap: 6 mm, outside: 6.8 mm, material: carbon-30t, mass: 9 g}\n  - {between: [middle, tip], kind: ferrule, length: 60 mm, outside: 7 mm, wall: 0.5 mm, material: brass, bonding: 80 %}\n"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := resolved(t, edited(t, tt.model+".yaml", tt.old, tt.edited)).ID(); got != good(t, tt.model).ID() {
				t.Error("the identity changed")
			}
		})
	}
}

func TestIdentityChanges(t *testing.T) {
	for _, tt := range []struct{ name, model, old, edited string }{
		{"name", "skerry-10", "name: Skerry 10", "name: Skerry X"},
		{"a hundredth of a millimetre", "skerry-10", "wall: 1.05 mm", "wall: 1.06 mm"},
		{"less than a hair", "skerry-10", "wall: 1.05 mm", "wall: 1.0500001 mm"},
		{"ring moved", "skerry-10", "at: 95 mm", "at: 96 mm"},
		{"ring of another kind", "skerry-10", "at: 1480 mm, part: DL-16", "at: 1480 mm, part: DL-20"},
		{"ring gone", "skerry-10", "  - {at: 95 mm, part: SL-6}\n", ""},
		{"whipping given", "skerry-10", "at: 95 mm, part: SL-6", "at: 95 mm, part: SL-6, whipping: 12 mm"},
		{"tolerance", "skerry-10", "{wall: 0.04 mm}", "{wall: 0.05 mm}"},
		{"plies the other way round", "skerry-10",
			"        - {material: uni-125, angle: 0, wraps: {tip: 3, butt: 2.5}}\n        - {material: glass-scrim, angle: 90, wraps: 1}\n",
			"        - {material: glass-scrim, angle: 90, wraps: 1}\n        - {material: uni-125, angle: 0, wraps: {tip: 3, butt: 2.5}}\n"},
		{"sections exchanged", "skerry-10", "[butt, tip]", "[tip, butt]"},
		{"colour", "skerry-10", "colour: moss", "colour: slate"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			src := edited(t, tt.model+".yaml", tt.old, tt.edited)
			if tt.name == "sections exchanged" {
				src = exchanged(src)
			}
			if resolved(t, src).ID() == good(t, tt.model).ID() {
				t.Error("the identity stayed")
			}
		})
	}
}

// exchanged puts the tip section before the butt section.
func exchanged(src []byte) []byte {
	from, mid, to := bytes.Index(src, []byte("  - name: butt")), bytes.Index(src, []byte("  - name: tip")), bytes.Index(src, []byte("joints:"))
	return bytes.Join([][]byte{src[:from], src[mid:to], src[from:mid], src[to:]}, nil)
}

// A shared part is part of the models that use it and of no other.
func TestIdentityFollowsShared(t *testing.T) {
	for _, tt := range []struct {
		name, file, old, edited string
		changes                 bool
	}{
		{"mass of a ring in use", "parts.yaml", "mass: 0.32 g", "mass: 0.30 g", true},
		{"price of a ring in use", "parts.yaml", "price: 2.10", "price: 2.20", false},
		{"ring not in use", "parts.yaml", "mass: 3.6 g", "mass: 3.4 g", false},
		{"grip not in use", "parts.yaml", "mass: 7 g", "mass: 8 g", false},
		{"material in use", "materials.yaml", "modulus: 110 GPa", "modulus: 112 GPa", true},
		{"material of a grip", "materials.yaml", "cork: {density: 210 kg/m3}", "cork: {density: 220 kg/m3}", true},
		{"built-in material in use", "materials.yaml", "cork:", "titanium: {modulus: 110 GPa}\ncork:", true},
		{"built-in material not in use", "materials.yaml", "cork:", "brass: {modulus: 110 GPa}\ncork:", false},
		{"where a value comes from", "materials.yaml", "cork: {density: 210 kg/m3}", "cork: {density: 210 kg/m3, source: weighed}", false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			files := map[string][]byte{"parts.yaml": read(t, "good/parts.yaml"), "materials.yaml": read(t, "good/materials.yaml")}
			files[tt.file] = edited(t, tt.file, tt.old, tt.edited)
			m, err := models.ParseModel("m.yaml", read(t, "good/skerry-10.yaml"))
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
			spec, err := models.Resolve(m, parts, materials)
			if err != nil {
				t.Fatal(err)
			}
			if changed := spec.ID() != good(t, "skerry-10").ID(); changed != tt.changes {
				t.Errorf("changed: %v, want %v", changed, tt.changes)
			}
		})
	}
}

var inMillimetres = regexp.MustCompile(`\b(\d+(?:\.\d+)?) mm\b`)

// Whatever exact unit each length is written in, it is the same rod.
func TestAnyRespellingIsTheSameRevision(t *testing.T) {
	src := read(t, "good/skerry-10.yaml")
	want := good(t, "skerry-10").ID()
	sizes := map[string]*big.Rat{"cm": big.NewRat(10, 1), "m": big.NewRat(1000, 1), "in": big.NewRat(254, 10), "ft": big.NewRat(3048, 10)}
	rapid.Check(t, func(rt *rapid.T) {
		respelt := inMillimetres.ReplaceAllFunc(src, func(old []byte) []byte {
			unit := rapid.SampledFrom([]string{"mm", "cm", "m", "in", "ft"}).Draw(rt, "unit")
			if unit == "mm" {
				return old
			}
			number, _ := new(big.Rat).SetString(strings.TrimSuffix(string(old), " mm"))
			number.Quo(number, sizes[unit])
			return fmt.Appendf(nil, "%s %s", number.RatString(), unit)
		})
		if got := resolved(t, respelt).ID(); got != want {
			rt.Errorf("another identity for:\n%s", respelt)
		}
	})
}

// number finds quantities and counts in a spec.
var number = regexp.MustCompile(`\d+(?:\.\d+)? (?:mm|g|GPa|kg/m3|g/m|N·m2|%|lb|in|deg|oz|Hz|N)\b|\d+ %|(?:wraps|angle|rings|poisson): \d+(?:\.\d+)?`)

// isBeside reports whether a number in a spec is of what the rod is for, of what is
// wanted of it or of the reel that is put on it.
func isBeside(src []byte, at int) bool {
	block := string(src[:at])
	heads := regexp.MustCompile(`(?m)^[a-z]+`).FindAllString(block, -1)
	switch heads[len(heads)-1] {
	case "casts", "line", "wants":
		return true
	case "reel":
		return !strings.HasSuffix(block, " at: ")
	}
	return false
}

// Every number in the files is part of the identity of all that is said, bar those
// of entries that are not used: no leaf may be missing from the walk. Those of the
// rod are part of its identity, and no other is.
func TestEveryLeafCounts(t *testing.T) {
	for _, name := range []string{"skerry-10", "long-drift"} {
		src := read(t, "good/"+name+".yaml")
		was := good(t, name)
		places, beside := number.FindAllIndex(src, -1), 0
		for _, at := range places {
			old := string(src[at[0]:at[1]])
			t.Run(fmt.Sprintf("%s %d %s", name, at[0], old), func(t *testing.T) {
				spec, ok := tried(t, bytes.Join([][]byte{src[:at[0]], []byte(nudged(old)), src[at[1]:]}, nil))
				if !ok {
					return // refused, so it counts
				}
				if spec.WholeID() == was.WholeID() {
					t.Errorf("%s made %s is the same spec", old, nudged(old))
				}
				if same := spec.ID() == was.ID(); same != isBeside(src, at[0]) {
					t.Errorf("%s made %s is the same rod: %v", old, nudged(old), same)
				}
			})
			if isBeside(src, at[0]) {
				beside++
			}
		}
		if len(places) < 30 || beside < 6 || len(places)-beside < 20 {
			t.Errorf("%s has only %d numbers, %d of them beside the rod", name, len(places), beside)
		}
	}
}

// tried reads a spec that may have faults.
func tried(t testing.TB, src []byte) (*models.Spec, bool) {
	parts, materials := goodShared(t)
	spec, err := models.ParseSpec("m.yaml", src, parts, materials)
	return spec, err == nil
}

// No price, want, comment or order changes an identity, and every dimension does.
func TestIdentityIsTheRod(t *testing.T) {
	price := regexp.MustCompile(`price: \d+(?:\.\d+)?`)
	partsSrc := read(t, "good/parts.yaml")
	if len(price.FindAll(partsSrc, -1)) < 3 {
		t.Fatal("the good range has next to no prices")
	}
	_, materials := goodShared(t)
	rapid.Check(t, func(rt *rapid.T) {
		name := rapid.SampledFrom([]string{"skerry-10", "long-drift"}).Draw(rt, "model")
		src := read(t, "good/"+name+".yaml")
		want := good(t, name).ID()
		edited := bytes.Clone(src)
		for i := len(edited); i > 0; { // from the end, so that places before stay
			at := number.FindAllIndex(edited[:i], -1)
			if len(at) == 0 {
				break
			}
			last := at[len(at)-1]
			i = last[0]
			if old := string(edited[last[0]:last[1]]); isBeside(edited, last[0]) && edited[last[0]-1] != '/' && !strings.HasPrefix(old, "rings") && rapid.Bool().Draw(rt, "nudge") {
				edited = bytes.Join([][]byte{edited[:last[0]], []byte(nudged(old)), edited[last[1]:]}, nil)
			}
		}
		blocks := regexp.MustCompile(`(?m)^[a-z].*\n(?:^[ #].*\n)*`).FindAllString(string(edited), -1)
		blocks = rapid.Permutation(blocks).Draw(rt, "order")
		comment := rapid.StringMatching(`  # [a-zå: ]{0,20}`).Draw(rt, "comment")
		text := strings.Replace(strings.Join(blocks, ""), "\n", comment+"\n", 1)
		repriced := price.ReplaceAllFunc(partsSrc, func([]byte) []byte {
			return fmt.Appendf(nil, "price: %d.%02d", rapid.IntRange(0, 99).Draw(rt, "price"), rapid.IntRange(0, 99).Draw(rt, "cents"))
		})
		parts, err := models.ParseParts("parts.yaml", repriced)
		if err != nil {
			rt.Fatal(err)
		}
		spec, err := models.ParseSpec("m.yaml", []byte(text), parts, materials)
		if err != nil {
			rt.Fatal(err)
		}
		if spec.ID() != want {
			rt.Fatalf("another rod:\n%s", text)
		}
		at := rapid.SampledFrom(number.FindAllStringIndex(text, -1)).Draw(rt, "dimension")
		if isBeside([]byte(text), at[0]) {
			return
		}
		spec, ok := tried(t, []byte(text[:at[0]]+nudged(text[at[0]:at[1]])+text[at[1]:]))
		if ok && spec.ID() == want {
			rt.Errorf("%s made %s is the same rod:\n%s", text[at[0]:at[1]], nudged(text[at[0]:at[1]]), text)
		}
	})
}

// nudged makes the number in text a little larger.
func nudged(text string) string {
	digits := regexp.MustCompile(`\d+(?:\.\d+)?`).FindString(text)
	if strings.Contains(digits, ".") {
		return strings.Replace(text, digits, digits+"1", 1)
	}
	return strings.Replace(text, digits, digits+".1", 1)
}
