package evaluate

import (
	"context"
	"math"
	"strings"
	"testing"

	"rodlore/models"
)

const wholeBlank = `name: Gull 8
reel: {kind: fixed-spool, height: 60 mm}
length: 2440 mm
sections:
  - name: butt
    length: 1260 mm
    bought: {mass: 44 g, outside: [{at: 0 mm, is: 6.8 mm}, {at: 600 mm, is: 8.3 mm}, {at: 1260 mm, is: 10.4 mm}], material: carbon}
  - name: tip
    length: 1260 mm
    bought: {mass: 19 g, outside: [{at: 0 mm, is: 1.8 mm}, {at: 700 mm, is: 5 mm}, {at: 1260 mm, is: 8 mm}], material: carbon}
blank:
  measured: [{drop: 330 mm ± 3 mm, load: 100 g}]
joints:
  - {between: [butt, tip], kind: overlap, length: 80 mm}
rings: [{at: 0 mm, part: tip-6}]
handle: {seat: {at: 300 mm from butt, part: seat-16}}
`

const caneBlank = `name: Osier 7
reel: fly
length: 2130 mm
sections:
  - name: butt
    length: 1090 mm
    hexagon: [{at: 0 mm, flats: 5.4 mm}, {at: 500 mm, flats: 6.8 mm, hollow: 2 mm}, {at: 1090 mm, flats: 8.5 mm, hollow: 3 mm}]
    material: cane
  - name: tip
    length: 1090 mm
    hexagon: [{at: 0 mm, flats: 1.9 mm}, {at: 1090 mm, flats: 5.4 mm}]
    material: cane
joints:
  - {between: [butt, tip], kind: overlap, length: 50 mm}
rings: [{at: 0 mm, part: tip-6}]
handle: {seat: {at: 100 mm from butt, part: seat-16}}
`

// readSpec reads a spec in which texts were replaced, pair by pair.
func readSpec(t *testing.T, text string, edits ...string) *models.Spec {
	t.Helper()
	for i := 0; i < len(edits); i += 2 {
		if strings.Count(text, edits[i]) != 1 {
			t.Fatalf("%q is not once in the spec", edits[i])
		}
		text = strings.Replace(text, edits[i], edits[i+1], 1)
	}
	parts, materials := must(models.ParseParts("parts.yaml", []byte(sampledParts))), must(models.ParseMaterials("materials.yaml", nil))
	s, err := models.ParseSpec("spec.yaml", []byte(text), parts, materials)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestBoughtAndCaneAreCut cuts blanks that were bought and blanks of split cane, joins
// them otherwise and reads them again: they are the same blanks. Such of another
// weight, outside, bore or material are others. The sections' cuts are in millimetres.
func TestBoughtAndCaneAreCut(t *testing.T) {
	unread := []string{"blank:\n  measured: [{drop: 330 mm ± 3 mm, load: 100 g}]\n", ""}
	tipCut := []string{ // 60 mm off the tip, callipered and weighed anew
		"length: 2440 mm", "length: 2380 mm",
		"length: 1260 mm\n    bought: {mass: 19 g, outside: [{at: 0 mm, is: 1.8 mm}, {at: 700 mm, is: 5 mm}, {at: 1260",
		"length: 1200 mm\n    bought: {mass: 18.8 g, outside: [{at: 0 mm, is: 2.1 mm}, {at: 640 mm, is: 5 mm}, {at: 1200",
	}
	for name, c := range map[string]struct {
		spec  string
		both  []string // edits of both sides
		edits []string
		cut   [2]Cut // of butt and tip, mm
		other string // the section that is another blank, if any
	}{
		"tip cut":          {wholeBlank, nil, tipCut, [2]Cut{{}, {60, 0}}, ""},
		"tip cut, unread":  {wholeBlank, unread, tipCut, [2]Cut{{}, {60, 0}}, ""},
		"joint":            {wholeBlank, nil, []string{"length: 80 mm", "length: 72 mm", "length: 2440", "length: 2448"}, [2]Cut{}, ""},
		"callipered again": {wholeBlank, nil, []string{"is: 8.3 mm", "is: 8.25 mm"}, [2]Cut{}, ""},
		"weighed again":    {wholeBlank, nil, []string{"mass: 44 g", "mass: 44.2 g"}, [2]Cut{}, ""},
		"hung again":       {wholeBlank, nil, []string{"load: 100 g}]", "load: 100 g}, {drop: 140 mm, load: 100 g, at: 600 mm}]"}, [2]Cut{}, ""},
		"heavier":          {wholeBlank, nil, []string{"mass: 44 g", "mass: 46 g"}, [2]Cut{}, "butt"},
		"glass":            {wholeBlank, unread, []string{"10.4 mm}], material: carbon", "10.4 mm}], material: glass"}, [2]Cut{}, "butt"},
		"thicker":          {wholeBlank, unread, []string{"is: 8.3 mm", "is: 8.6 mm"}, [2]Cut{}, "butt"},
		"cane cut": {caneBlank, nil, []string{"length: 2130", "length: 2110",
			"length: 1090 mm\n    hexagon: [{at: 0 mm, flats: 5.4 mm}, {at: 500 mm, flats: 6.8 mm, hollow: 2 mm}, {at: 1090 mm, flats: 8.5 mm, hollow: 3 mm}]",
			"length: 1070 mm\n    hexagon: [{at: 0 mm, flats: 5.45 mm, hollow: 0.1 mm}, {at: 480 mm, flats: 6.8 mm, hollow: 2 mm}, {at: 1070 mm, flats: 8.5 mm, hollow: 3 mm}]"},
			[2]Cut{{20, 0}, {}}, ""},
		"cane joint": {caneBlank, nil, []string{"length: 50 mm", "length: 45 mm", "length: 2130", "length: 2135"}, [2]Cut{}, ""},
		"cane bored": {caneBlank, nil, []string{"hollow: 3 mm", "hollow: 3.3 mm"}, [2]Cut{}, "butt"},
		"solid tip cut": {solidTip, []string{"{at: 0 mm, is: 3 mm}", "{at: 0 mm, is: 1 mm}"}, []string{"length: 1450", "length: 1410",
			"length: 500 mm\n    solid: [{at: 0 mm, is: 1 mm}, {at: 500", "length: 460 mm\n    solid: [{at: 0 mm, is: 1.16 mm}, {at: 460"},
			[2]Cut{{}, {40, 0}}, ""},
		"solid tip spliced further": {solidTip, nil, []string{"length: 50 mm", "length: 60 mm", "length: 1450", "length: 1440"}, [2]Cut{}, ""},
		"solid tip of another kind": {solidTip, nil, []string{"material: glass", "material: titanium"}, [2]Cut{}, "tip"},
		"cane planed":               {caneBlank, nil, []string{"flats: 1.9 mm", "flats: 1.8 mm"}, [2]Cut{}, "tip"},
	} {
		t.Run(name, func(t *testing.T) {
			old, now := readSpec(t, c.spec, c.both...), readSpec(t, c.spec, append(c.both[:len(c.both):len(c.both)], c.edits...)...)
			own := strings.Join(append(sectionErrors(old, now), sectionErrors(now, old)...), ", ")
			if c.other == "" && own != "" || !strings.Contains(own, c.other) {
				t.Errorf("not shared are %q", own)
			}
			for i, s := range now.Sections {
				cut, ok := TaperOf(now, i).CutFrom(TaperOf(old, i))
				if ok == (s.Name.Text == c.other) || math.Abs(1e3*cut.Thin-c.cut[i].Thin) > 1e-6 || math.Abs(1e3*cut.Thick-c.cut[i].Thick) > 1e-6 {
					t.Errorf("%s: cut by %v: %v", s.Name, cut, ok)
				}
			}
		})
	}
}

// TestSameBlankKnowsTheChange holds a change of joint on a bought blank against what is
// not known of the blank: it is no part of the change.
func TestSameBlankKnowsTheChange(t *testing.T) {
	figures := func(edits ...string) *Figures {
		return must(New(readSpec(t, wholeBlank, edits...), models.DefaultSettings()).FiguresWithTolerances(context.Background()))
	}
	old, now := figures(), figures("length: 80 mm", "length: 72 mm", "length: 2440", "length: 2448")
	pairs := NewPairs(old, now)
	for _, key := range []string{"weight", "third-load", "test-curve", "recovery", "cast-mass"} {
		of, _ := old.Get(key)
		if c := pairs.Change(key); !(c.Tolerance <= of.Tolerance/20) {
			t.Errorf("%s: %.4g ± %.2g, of which the change is known to ± %.2g", key, of.Value, of.Tolerance, c.Tolerance)
		}
	}
}
