package evaluate

import (
	"context"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rodlore/models"
)

// A rod with another top has the figures of the same rod written out by hand, and
// their tolerances, whatever the top.
func TestTopAsWrittenOut(t *testing.T) {
	good, err := os.ReadFile("../models/testdata/good/skerry-10.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const low, overlap, main = "  - {at: 1480 mm, part: DL-16, whipping: 24 mm}\n", 82, 1565
	main10 := strings.Replace(string(good), low, low+"  - {at: 1900 mm, part: DL-16, whipping: 24 mm}\n", 1)
	set := models.DefaultSettings()
	rapid.Check(t, func(rt *rapid.T) {
		length := rapid.IntRange(900, 1700).Draw(rt, "length")
		joint := rapid.IntRange(overlap-12, overlap+12).Draw(rt, "overlap")
		first := rapid.IntRange(60, 200).Draw(rt, "first ring")
		second := first + rapid.IntRange(80, 500).Draw(rt, "second ring")
		// As steep as the main top, and as wide at its end.
		sections := fmt.Sprintf("- name: fine tip\n  length: %d mm\n  rolled:\n"+
			"    mandrel: [{at: 0 mm, diameter: %.6f mm}, {at: %[1]d mm, diameter: 6.6 mm}]\n"+
			"    plies:\n      - {material: uni-125, angle: 0, wraps: {tip: 2, butt: 2.5}}\n", length, 6.6-float64(length)*5.5/main)
		joints := fmt.Sprintf("- {between: [butt, fine tip], kind: overlap, length: %d mm}\n", joint)
		rings := fmt.Sprintf("- {at: 0 mm, part: T-6}\n- {at: %d mm, part: SL-6}\n- {at: %d mm, part: SL-6}\n", first, second)

		given := main10 + "tops:\n  - name: fine\n    sections:\n" + under(6, sections) + "    joints:\n" + under(6, joints) + "    rings:\n" + under(6, rings)
		top, ok := specOf(rt, given).Top("fine")
		if !ok {
			rt.Fatal("no top")
		}
		whole := main + length - joint
		hand := between(main10, "  - name: tip", "joints:", under(2, sections))
		hand = between(hand, "  - {between:", "rings:", under(2, joints))
		hand = between(hand, "  - {at: 0 mm, part: T-6}", "handle:",
			under(2, rings)+fmt.Sprintf("  - {at: %d mm, part: DL-16, whipping: 24 mm}\n", 1900+whole-(2*main-overlap)))
		hand = between(hand, "wants:", "tolerances:", "")
		hand = strings.Replace(hand, "length: 10 ft", fmt.Sprintf("length: %d mm", whole), 1)

		got, want := figuresOf(rt, top, set), figuresOf(rt, specOf(rt, hand), set)
		if len(got.List) != len(want.List) {
			rt.Fatalf("%d figures, by hand %d", len(got.List), len(want.List))
		}
		same := func(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(b) || math.IsNaN(a) && math.IsNaN(b) }
		for i, f := range got.List {
			if w := want.List[i]; f.Key != w.Key || !same(f.Value, w.Value) || !same(f.Tolerance, w.Tolerance) {
				rt.Errorf("%s = %g ± %g, by hand %s = %g ± %g", f.Key, f.Value, f.Tolerance, w.Key, w.Value, w.Tolerance)
			}
		}
	})
}

func figuresOf(t *rapid.T, s *models.Spec, set *models.Settings) *Figures {
	f, err := New(s, set).FiguresWithTolerances(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// specOf reads a spec that uses the parts and materials of package models' tests.
func specOf(t *rapid.T, src string) *models.Spec {
	var shared [2][]byte
	for i, file := range []string{"parts.yaml", "materials.yaml"} {
		var err error
		if shared[i], err = os.ReadFile("../models/testdata/good/" + file); err != nil {
			t.Fatal(err)
		}
	}
	parts, err := models.ParseParts("parts.yaml", shared[0])
	if err != nil {
		t.Fatal(err)
	}
	materials, err := models.ParseMaterials("materials.yaml", shared[1])
	if err != nil {
		t.Fatal(err)
	}
	s, err := models.ParseSpec("model.yaml", []byte(src), parts, materials)
	if err != nil {
		t.Fatalf("%v\n%s", err, src)
	}
	return s
}

// between puts other text from where one begins to where the next does.
func between(text, from, to, other string) string {
	i := strings.Index(text, from)
	j := i + strings.Index(text[i:], to)
	return text[:i] + other + text[j:]
}

// under indents lines.
func under(by int, lines string) string {
	pad := strings.Repeat(" ", by)
	return pad + strings.ReplaceAll(strings.TrimSuffix(lines, "\n"), "\n", "\n"+pad) + "\n"
}
