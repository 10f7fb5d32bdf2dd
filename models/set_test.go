package models

import (
	"os"
	"path/filepath"
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
	if _, err := SetValues("x.yaml", []byte(settableSpec), map[string]string{"name": "a\nb"}); err == nil {
		t.Error("a value of two lines is set")
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
