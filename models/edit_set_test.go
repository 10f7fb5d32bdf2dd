package models

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const settableSpec = `# a rod
name: "Skerry 10" # quoted
reel: fixed-spool
casts: 10 g to 40 g
length: 1 m
sections:
  - name: butt
    length: 1 m
    rolled:
      mandrel: [{at: 0 mm, diameter: 6.7 mm}, {at: 1 m, diameter: 9 mm}]
      plies:
        - {material: carbon-std, angle: 0, wraps: {tip: 3, butt: 2.5}} # on the bias
        - {material: 'glass-scrim', angle: 90, wraps: 1}
rings:
  - {at: 0 mm,  part: T-6}
  - {at: 95 mm, part: SL-6}
handle: {seat: {at: 300 mm, part: seat-16}, grips: [{from: 0 mm, to: 90 mm, diameter: 27 mm, material: cork}]}
wants: {weight: 150 g to 205 g}
`

// TestSetValues sets one value after the other: of the text nothing else changes.
func TestSetValues(t *testing.T) {
	for _, row := range []struct{ path, text, was, is string }{
		{"name", `Skerry "ten"`, `"Skerry 10"`, `"Skerry \"ten\""`},
		{"reel.kind", "fly", "reel: fixed-spool", "reel: fly"},
		{"casts", "5 g to 30 g", "10 g to 40 g", "5 g to 30 g"},
		{"sections[butt].rolled.plies[1].wraps.tip", "3.5", "tip: 3,", "tip: 3.5,"},
		{"sections[butt].rolled.plies[2].wraps", "2", "wraps: 1}", "wraps: 2}"},
		{"sections[butt].rolled.plies[2].material", "it's", "'glass-scrim'", "'it''s'"},
		{"sections[butt].rolled.mandrel[at 0 mm].diameter", "6.8 mm", "6.7 mm", "6.8 mm"},
		{"rings[at 95 mm].at", "110 mm", "at: 95 mm", "at: 110 mm"},
		{"rings[at 95 mm].part", "- {x: y}", "SL-6", `"- {x: y}"`},
		{"wants.weight", "at most 205 g", "150 g to 205 g", "at most 205 g"},
		{"wants.recovery", "at least 2.3 Hz", "205 g}", "205 g, recovery: at least 2.3 Hz}"},
		{"rings[at 95 mm].whipping", "12 mm", "part: SL-6}", "part: SL-6, whipping: 12 mm}"},
		{"held.to", "620 mm", "205 g}\n", "205 g}\nheld: {to: 620 mm}\n"},
		{"sections[butt].material", "carbon-std", "wraps: 1}\n", "wraps: 1}\n    material: carbon-std\n"},
		{"handle.butt cap.part", "cap-24", "cork}]}", "cork}], butt cap: {part: cap-24}}"},
	} {
		out, err := SetValues("x.yaml", []byte(settableSpec), map[string]string{row.path: row.text})
		if want := strings.Replace(settableSpec, row.was, row.is, 1); err != nil || string(out) != want {
			t.Errorf("%s: %v\n%s", row.path, err, out)
		}
	}
	_, err := SetValues("x.yaml", []byte(settableSpec), map[string]string{"rings[at 95 mm].prat": "SL-8", "price": "1"})
	if err == nil || !strings.Contains(err.Error(), `no rings[at 95 mm].prat that could be set; did you mean rings[at 95 mm].part?`) || !strings.Contains(err.Error(), "no price") {
		t.Errorf("paths that are not there: %v", err)
	}
	for _, path := range []string{"name", "held.to"} {
		if _, err := SetValues("x.yaml", []byte(settableSpec), map[string]string{path: "a\nb"}); err == nil {
			t.Errorf("%s: a value of two lines is set", path)
		}
	}
	for _, path := range []string{"", ".", "held", "rings[at 9 mm].part", "rings[at 95 mm].", "length.of", "casts: x\nheld.to", "handle.grips"} {
		if out, err := SetValues("x.yaml", []byte(settableSpec), map[string]string{path: "x"}); err == nil && path != "held" {
			t.Errorf("%q is set:\n%s", path, out)
		}
	}
}

// TestValuesAreSettable puts every value of whole specs in its own place.
func TestValuesAreSettable(t *testing.T) {
	files, err := filepath.Glob("testdata/good/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	for _, file := range append(files, "starter/model.yaml") {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		values, err := Values(file, src)
		if err != nil {
			continue // parts and settings
		}
		for _, v := range values {
			out, err := SetValues(file, src, map[string]string{v.Path.String(): v.Text + "x"})
			if err != nil || len(out) < len(src)+1 || len(out) > len(src)+3 {
				t.Errorf("%s: %s: %v", file, v.Path, err)
			}
			back, _ := SetValues(file, src, map[string]string{v.Path.String(): v.Text})
			if string(back) != string(src) {
				t.Errorf("%s: %s changes when it is set to what it is", file, v.Path)
			}
		}
	}
}

// TestEntries adds a ring and a ply and takes them out: of the text nothing else changes.
func TestEntries(t *testing.T) {
	for _, row := range []struct{ path, was, added, removed string }{
		{"rings[at 0 mm]", "  - {at: 0 mm,  part: T-6}\n", "  - {at: 0 mm,  part: T-6}\n  - {at: 47.5 mm, part: SL-6}\n", ""},
		{"rings[at 95 mm]", "  - {at: 95 mm, part: SL-6}\n", "  - {at: 47.5 mm, part: SL-6}\n  - {at: 95 mm, part: SL-6}\n", ""},
		{"sections[butt].rolled.plies[1]", "        - {material: carbon-std, angle: 0, wraps: {tip: 3, butt: 2.5}} # on the bias\n",
			"        - {material: carbon-std, angle: 0, wraps: {tip: 3, butt: 2.5}} # on the bias\n        - {material: carbon-std, angle: 0, wraps: {tip: 3, butt: 2.5}}\n", ""},
		{"sections[butt].rolled.plies[2]", "        - {material: 'glass-scrim', angle: 90, wraps: 1}\n",
			"        - {material: 'glass-scrim', angle: 90, wraps: 1}\n        - {material: 'glass-scrim', angle: 90, wraps: 1}\n", ""},
	} {
		out, err := AddEntry("x.yaml", []byte(settableSpec), row.path)
		if want := strings.Replace(settableSpec, row.was, row.added, 1); err != nil || string(out) != want {
			t.Errorf("%s: %v\n%s", row.path, err, out)
		}
		out, err = RemoveEntry("x.yaml", []byte(settableSpec), row.path)
		if want := strings.Replace(settableSpec, row.was, row.removed, 1); row.path != "rings[at 0 mm]" && (err != nil || string(out) != want) {
			t.Errorf("without %s: %v\n%s", row.path, err, out)
		}
	}
	// Whether there may be none is for who reads it to say.
	one := strings.Replace(settableSpec, "        - {material: 'glass-scrim', angle: 90, wraps: 1}\n", "", 1)
	if out, err := RemoveEntry("x.yaml", []byte(one), "sections[butt].rolled.plies[1]"); err != nil || !strings.Contains(string(out), "plies:\nrings:") {
		t.Errorf("without the only ply: %v\n%s", err, out)
	}
	// A ply may end in a text over several lines, behind which the copy stands.
	const long = "        - angle: 90\n          wraps: 1\n          material: >-\n            glass-scrim\n"
	folded := strings.Replace(settableSpec, "        - {material: 'glass-scrim', angle: 90, wraps: 1}\n", long, 1)
	if out, err := AddEntry("x.yaml", []byte(folded), "sections[butt].rolled.plies[2]"); err != nil || string(out) != strings.Replace(folded, long, long+long, 1) {
		t.Errorf("a ply over several lines: %v\n%s", err, out)
	}
	for _, path := range []string{"", "rings", "rings[at 9 mm]", "sections[butt].rolled.plies[3]", "sections[butt]"} {
		_, added := AddEntry("x.yaml", []byte(settableSpec), path)
		_, removed := RemoveEntry("x.yaml", []byte(settableSpec), path)
		if added == nil || removed == nil {
			t.Errorf("%q is added and taken out", path)
		}
	}
}

// TestValuesOnOtherLines finds the values on lines that end in any of the ways that
// YAML knows.
func TestValuesOnOtherLines(t *testing.T) {
	want, err := Values("x.yaml", []byte(settableSpec))
	if err != nil {
		t.Fatal(err)
	}
	for _, ends := range []string{"\r\n", "\r", "\r\r\n", "\u2028"} {
		src := strings.ReplaceAll(settableSpec, "\n", ends)
		got, err := Values("x.yaml", []byte(src))
		if err != nil || !slices.EqualFunc(got, want, func(a, b Value) bool { return a.Path.String() == b.Path.String() && a.Text == b.Text }) {
			t.Errorf("%q: %v, %v, want %v", ends, got, err, want)
		}
		out, err := RenameUsed("x.yaml", []byte(src), map[string]string{"SL-6": "SL-8"})
		if err != nil || string(out) != strings.Replace(src, "SL-6", "SL-8", 1) {
			t.Errorf("%q: %q, %v", ends, out, err)
		}
	}
}
