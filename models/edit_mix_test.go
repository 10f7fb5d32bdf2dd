package models_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rodlore/models"
)

// parsedModel reads a text.
func parsedModel(t testing.TB, text string) *models.Model {
	t.Helper()
	m, err := models.ParseModel("m.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// swapped puts new for old, which must stand there once.
func swapped(t testing.TB, text string, oldNew ...string) string {
	t.Helper()
	for i := 0; i < len(oldNew); i += 2 {
		if strings.Count(text, oldNew[i]) != 1 {
			t.Fatalf("%q does not stand once in the text", oldNew[i])
		}
		text = strings.Replace(text, oldNew[i], oldNew[i+1], 1)
	}
	return text
}

// sameModel reports whether two models are the same rod.
func sameModel(a, b *models.Model) bool {
	return (&models.Spec{Model: a}).ID() == (&models.Spec{Model: b}).ID()
}

func TestSpliceSpec(t *testing.T) {
	start := swapped(t, string(read(t, "good/skerry-10.yaml")),
		"name: Skerry 10\n", "# The rock rod.\nname: Skerry 10\n",
		"handle:\n", "\n# Cut to the hand.\nhandle: # from the butt\n",
		"diameter: 27 mm, material: cork}\n", "diameter: 27 mm, material: cork} # turned\n")
	goal := swapped(t, start,
		"handle: # from the butt", "handle: # shorter",
		"to: 120 mm, diameter: 27 mm, material: cork} # turned", "to: 100 mm, diameter: 26 mm, material: cork} # sanded",
		"at: 560 mm from butt", "at: 530 mm from butt",
		"outside: 8.9 mm,  wall: 1.05 mm}", "outside: 8.7 mm,  wall: 1.0 mm} # thinner",
		"  - {at: 95 mm, part: SL-6}\n", "",
		"trim: copper}", "trim: rust}\nheld: {to: 600 mm} # by the clamp",
		"tolerances: {wall: 0.04 mm}\n", "")
	for _, row := range []struct {
		name string
		want string // a text of the spec that is wanted
		has  string // what the result is, "" for want
	}{
		{"the one", start, ""},
		{"the other", goal, ""},
		{"a handle from the other, with its comments", swapped(t, start,
			"handle: # from the butt", "handle: # shorter",
			"to: 120 mm, diameter: 27 mm, material: cork} # turned", "to: 100 mm, diameter: 26 mm, material: cork} # sanded",
			"at: 560 mm from butt", "at: 530 mm from butt"), ""},
		{"a handle in between", swapped(t, start,
			"to: 120 mm, diameter: 27 mm", "to: 110 mm, diameter: 26.5 mm", "at: 560 mm from butt", "at: 545 mm from butt"), ""},
		{"a section from the other", swapped(t, start, "outside: 8.9 mm,  wall: 1.05 mm}", "outside: 8.7 mm,  wall: 1.0 mm} # thinner"), ""},
		{"a section in between", swapped(t, start, "outside: 8.9 mm,  wall: 1.05 mm}", "outside: 8.8 mm,  wall: 1.02 mm}"), ""},
		{"plies in between", swapped(t, start, "wraps: {tip: 3, butt: 2.5}", "wraps: {tip: 3.5, butt: 2.5}"), ""},
		{"a key that only the other has", swapped(t, start, "tolerances: {wall: 0.04 mm}\n", "tolerances: {wall: 0.04 mm}\nheld: {to: 600 mm} # by the clamp\n"), ""},
		{"a key gone", swapped(t, start, "tolerances: {wall: 0.04 mm}\n", ""), ""},
		{"rings anew", swapped(t, start, "{at: 95 mm", "{at: 120 mm", "{at: 1480 mm", "{at: 1440 mm"), ""},
		{"the stated length", swapped(t, start, "length: 10 ft", "length: 3046 mm"), ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			for _, eol := range []string{"\n", "\r\n"} {
				in := func(text string) []byte { return []byte(strings.ReplaceAll(text, "\n", eol)) }
				out, err := models.SpliceSpec("m.yaml", in(start), in(goal), parsedModel(t, row.want))
				if err != nil {
					t.Fatal(err)
				}
				if diff := cmp.Diff(strings.ReplaceAll(row.want, "\n", eol), string(out)); diff != "" {
					t.Errorf("(-want +got):\n%s", diff)
				}
			}
		})
	}
}

// A section taken over is moved in or out with its dash, and has the line breaks
// of the text it comes into.
func TestSpliceSpecLayout(t *testing.T) {
	start := string(read(t, "good/skerry-10.yaml"))
	thinner := swapped(t, start, "outside: 8.9 mm", "outside: 8.7 mm", "diameter: 6.6 mm", "diameter: 6.8 mm", "colour: moss", "colour: slate", "at: 560 mm from butt", "at: 550 mm from butt")
	var b strings.Builder
	inside := false
	for line := range strings.Lines(thinner) {
		inside = inside && strings.HasPrefix(line, " ") || strings.HasPrefix(line, "sections:")
		if inside && strings.HasPrefix(line, " ") {
			line = "    " + line
		}
		b.WriteString(strings.ReplaceAll(line, "\n", "\r\n"))
	}
	want := swapped(t, start, "outside: 8.9 mm", "outside: 8.7 mm")
	out, err := models.SpliceSpec("m.yaml", []byte(start), []byte(b.String()), parsedModel(t, want))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, string(out)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestSpliceSpecRefuses(t *testing.T) {
	start := string(read(t, "good/skerry-10.yaml"))
	for _, row := range []struct{ name, a, b, want, says string }{
		{"a ply that is in neither", start, start, swapped(t, start, "wraps: {tip: 3, butt: 2.5}}\n", "wraps: {tip: 3, butt: 2.5}}\n        - {material: uni-125, angle: 0, wraps: 1}\n"),
			"m.yaml: its sections cannot be rewritten without changing something else; edit it by hand"},
		{"a grip more", start, start, swapped(t, start, "material: cork}\n", "material: cork}\n    - {from: 200 mm, to: 300 mm, diameter: 25 mm, material: cork}\n"),
			"m.yaml: its handle cannot be rewritten"},
		{"rings in brackets", swapped(t, start, "rings:\n  - {at: 0 mm, part: T-6}\n  - {at: 95 mm, part: SL-6}\n  - {at: 1480 mm, part: DL-16, whipping: 24 mm}\n",
			"rings: [{at: 0 mm, part: T-6}, {at: 95 mm, part: SL-6}, {at: 1480 mm, part: DL-16, whipping: 24 mm}]\n"), "", swapped(t, start, "{at: 95 mm", "{at: 99 mm"),
			"m.yaml: its rings cannot be rewritten"},
		{"a text with faults", swapped(t, start, "10 ft", "10"), start, start, `m.yaml:6:9: length: "10" has no unit`},
	} {
		t.Run(row.name, func(t *testing.T) {
			if row.b == "" {
				row.b = row.a
			}
			out, err := models.SpliceSpec("m.yaml", []byte(row.a), []byte(row.b), parsedModel(t, row.want))
			if err == nil || !strings.Contains(err.Error(), row.says) {
				t.Errorf("got %v, want %q", err, row.says)
			}
			if err == nil {
				t.Errorf("written all the same:\n%s", out)
			}
		})
	}
}

// Whatever is taken from either text, what is written is what was wanted.
func TestSpliceSpecMixtures(t *testing.T) {
	start := string(read(t, "good/skerry-10.yaml"))
	edits := [][2]string{
		{"outside: 8.9 mm", "outside: 8.7 mm"}, {"outside: 14.2 mm", "outside: 14.05 mm"}, {"diameter: 6.6 mm", "diameter: 6.7 mm"},
		{"at: 95 mm", "at: 130 mm"}, {"  - {at: 1480 mm, part: DL-16, whipping: 24 mm}\n", "  - {at: 1400 mm, part: DL-16}\n  - {at: 1700 mm, part: DL-16}\n"},
		{"to: 120 mm", "to: 105.5 mm"}, {"trim: copper", "trim: 'dark: rust'"}, {"  butt cap: {part: cap-24}\n", ""},
		{"tolerances: {wall: 0.04 mm}\n", ""}, {"  weight: at most 205 g\n", "  weight: at most 200 g\n"},
	}
	rapid.Check(t, func(rt *rapid.T) {
		a, b, want := start, start, start
		for _, e := range edits {
			// Of three rods one has the edit, two, or none; wanted is what either
			// text has, so that nothing need be made up.
			switch rapid.IntRange(0, 3).Draw(rt, e[1]) {
			case 1:
				a = strings.Replace(a, e[0], e[1], 1)
			case 2:
				b, want = strings.Replace(b, e[0], e[1], 1), strings.Replace(want, e[0], e[1], 1)
			case 3:
				a, b, want = strings.Replace(a, e[0], e[1], 1), strings.Replace(b, e[0], e[1], 1), strings.Replace(want, e[0], e[1], 1)
			}
		}
		if rapid.Bool().Draw(rt, "windows") {
			a = strings.ReplaceAll(a, "\n", "\r\n")
		}
		m := parsedModel(t, want)
		out, err := models.SpliceSpec("m.yaml", []byte(a), []byte(b), m)
		if err != nil {
			rt.Fatal(err)
		}
		if got := parsedModel(t, string(out)); !sameModel(got, m) {
			rt.Errorf("got\n%s\nwant\n%s", out, want)
		}
	})
}
