package diffing

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rodlore/models"
)

// edits makes several edits to a source; see source.edit.
func (s source) edits(t testing.TB, oldNew ...string) source {
	t.Helper()
	for i := 0; i < len(oldNew); i += 2 {
		s = s.edit(t, oldNew[i], oldNew[i+1])
	}
	return s
}

// groups are those of the changes.
func groups(changes []Change) []Group {
	var list []Group
	for _, e := range Edits(changes) {
		list = append(list, e.Group)
	}
	return list
}

func set(groups ...Group) map[Group]bool {
	taken := map[Group]bool{}
	for _, g := range groups {
		taken[g] = true
	}
	return taken
}

// ringsOf tells the rings in a line: "T-6 0, SL-6 95".
func ringsOf(s *models.Spec) string {
	var list []string
	for _, r := range s.Rings {
		list = append(list, fmt.Sprintf("%s %.6g", r.Part, float64(r.At.Value)*1e3))
	}
	return strings.Join(list, ", ")
}

const (
	oneRing   = "  - {at: 95 mm, part: SL-6}\n"
	fourRings = oneRing + "  - {at: 300 mm, part: SL-6}\n  - {at: 600 mm, part: SL-6}\n  - {at: 1000 mm, part: DL-16}\n"
	fewRings  = "  - {at: 110 mm, part: DL-20}\n  - {at: 400 mm, part: DL-20}\n  - {at: 1000 mm, part: DL-16}\n"
)

func TestBlendRings(t *testing.T) {
	base := goodSource(t)
	four := base.edit(t, oneRing, fourRings)
	for _, row := range []struct {
		name     string
		old, new source
		taken    []Group
		want     string
	}{
		{"one moved, one changed: the move", base, base.edits(t, "at: 95 mm, part: SL-6", "at: 120 mm, part: DL-16"),
			[]Group{RingPattern}, "T-6 0, SL-6 120, DL-16 1480"},
		{"one moved, one changed: the part", base, base.edits(t, "at: 95 mm, part: SL-6", "at: 120 mm, part: DL-16"),
			[]Group{RingParts}, "T-6 0, DL-16 95, DL-16 1480"},
		{"one put in brings its part", base, base.edit(t, oneRing, oneRing+"  - {at: 700 mm, part: DL-20}\n"),
			[]Group{RingPattern}, "T-6 0, SL-6 95, DL-20 700, DL-16 1480"},
		{"others put in and parts changed: the pattern alone has the nearest old part",
			base, base.edits(t, oneRing, fourRings, "at: 1480 mm, part: DL-16", "at: 1480 mm, part: DL-20"),
			[]Group{RingPattern}, "T-6 0, SL-6 95, SL-6 300, SL-6 600, DL-16 1000, DL-16 1480"},
		{"one put in next to the tip ring has a running ring's part",
			base, base.edits(t, oneRing, "  - {at: 40 mm, part: SL-6}\n"+oneRing, "at: 1480 mm, part: DL-16", "at: 1480 mm, part: DL-20"),
			[]Group{RingPattern}, "T-6 0, SL-6 40, SL-6 95, DL-16 1480"},
		{"one taken off and parts changed: the parts alone give it the nearest new part",
			four, base.edit(t, oneRing, fewRings),
			[]Group{RingParts}, "T-6 0, DL-20 95, DL-20 300, DL-20 600, DL-16 1000, DL-16 1480"},
		{"one taken off and parts changed: the pattern alone",
			four, base.edit(t, oneRing, fewRings),
			[]Group{RingPattern}, "T-6 0, SL-6 110, SL-6 400, DL-16 1000, DL-16 1480"},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := Blend(row.old.spec(t), row.new.spec(t), set(row.taken...))
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(row.want, ringsOf(got)); d != "" {
				t.Errorf("rings (-want +got):\n%s", d)
			}
		})
	}
}

// shortened is the good rod with a butt of 965 mm: it comes to 2448 mm.
func shortened(t *testing.T) source {
	return goodSource(t).edits(t, "length: 1565 mm\n    tube", "length: 965 mm\n    tube",
		"{at: 1565 mm, outside: 14.2 mm", "{at: 965 mm, outside: 14.2 mm", "length: 10 ft", "length: 2446 mm",
		"at: 1480 mm", "at: 1200 mm")
}

func TestBlendMakesRoom(t *testing.T) {
	// Between tip and handle, which ends with a grip or the seat, the old rod has
	// 3048 − 1500 mm and the new one 2446 − 607.5 mm. The new butt and the old
	// handle leave 2448 − 1500 mm.
	old := goodSource(t).edits(t, "to: 120 mm", "to: 1500 mm")
	now := shortened(t)
	for _, row := range []struct {
		name  string
		taken []Group
		want  []float64 // mm from the tip
	}{
		{"room enough", []Group{BlankOf("butt"), Handle}, []float64{0, 95, 1480}},
		{"too little room", []Group{BlankOf("butt")}, []float64{0, 95 * 948. / 1548, 1480 * 948. / 1548}},
		{"the other rod's pattern, too little room", []Group{BlankOf("butt"), RingPattern},
			[]float64{0, 95 * 948 / 1838.5, 1200 * 948 / 1838.5}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := Blend(old.spec(t), now.spec(t), set(row.taken...))
			if err != nil {
				t.Fatal(err)
			}
			for i, r := range got.Rings {
				if at := float64(r.At.Value) * 1e3; math.Abs(at-row.want[i]) > 1e-3 { // written to a micrometre
					t.Errorf("ring %d at %v mm, want %v mm", i, at, row.want[i])
				}
			}
		})
	}
}

// TestBlendLeavesRings puts a ring right at the front of the handle, in binary
// fractions that do not add up: where nothing took its room it stays as written.
func TestBlendLeavesRings(t *testing.T) {
	old := goodSource(t).edits(t, "length: 10 ft", "length: 3045 mm", "at: 1480 mm", "at: 50 1/16 in", "to: 120 mm", "to: 1773.4125 mm")
	got, err := Blend(old.spec(t), old.edit(t, "colour: moss", "colour: rust").spec(t), set(Finish))
	if err != nil {
		t.Fatal(err)
	}
	if at := got.Rings[2].At.Text; at != "50 1/16 in" {
		t.Errorf("the ring is at %q, want it where it was", at)
	}
}

func TestBlendRest(t *testing.T) {
	base := goodSource(t)
	const fitted = "fitted: {to: rod 0031, date: 2026-03-02, modulus: {butt: 2 %}}\n"
	const pieces = `  - name: butt
    length: 1565 mm
`
	for _, row := range []struct {
		name     string
		old, new source
		taken    []Group
		want     string // the leaf at path
		path     string
	}{
		{"stated length stays within 5 mm", base, base.edits(t, "length: 82 mm", "length: 80 mm"), []Group{Joints}, "10 ft", "length"},
		{"stated length follows the sections", base, shortened(t), []Group{BlankOf("butt")}, "2448 mm", "length"},
		{"stated length alone", base, base.edit(t, "length: 10 ft", "length: 3050 mm"), []Group{StatedLength}, "3050 mm", "length"},
		{"shared part new", base, base.edit(t, "mass: 2.4 g", "mass: 2.6 g"), []Group{SharedBy("DL-16")}, "2.6 g", "parts[DL-16].mass"},
		{"shared part old", base, base.edits(t, "mass: 2.4 g", "mass: 2.6 g", "colour: moss", "colour: rust"), []Group{Finish}, "2.4 g", "parts[DL-16].mass"},
		{"shared material new", base, base.edit(t, "density: 210 kg/m3", "density: 190 kg/m3"), []Group{SharedBy("cork")}, "190 kg/m3", "materials[cork].density"},
		{"whipping", base, base.edits(t, "at: 1480 mm, part: DL-16, whipping: 24 mm", "at: 1400 mm, part: DL-20, whipping: 30 mm"),
			[]Group{Finish}, "30 mm", "rings[at 1480 mm].whipping"},
		{"whipping stays with the place", base, base.edits(t, "at: 1480 mm, part: DL-16, whipping: 24 mm", "at: 1400 mm, part: DL-20, whipping: 30 mm"),
			[]Group{RingPattern, RingParts}, "24 mm", "rings[at 1400 mm].whipping"},
		{"handle with hold and reel", base, base.edits(t, "diameter: 27 mm", "diameter: 26 mm", "finish: {", "held: {to: 700 mm}\nfinish: {"),
			[]Group{Handle}, "700 mm", "held.to"},
		{"fit", base, base.edits(t, "finish: {", fitted+"finish: {", "diameter: 27 mm", "diameter: 26 mm"), []Group{Fitted}, "2 %", "fitted.modulus.butt"},
		{"without the fit", base.edit(t, "finish: {", fitted+"finish: {"), base.edit(t, "diameter: 27 mm", "diameter: 26 mm"), []Group{Handle}, "2 %", "fitted.modulus.butt"},
		{"limits", base, base.edits(t, "at most 205 g", "at most 200 g", "diameter: 27 mm", "diameter: 26 mm"), []Group{Settings}, "at most 200 g", "wants.weight.most"},
		{"words", base, base.edits(t, "name: Skerry 10", "name: Skerry X", "diameter: 27 mm", "diameter: 26 mm"), []Group{Handle}, "Skerry 10", "name"},
		{"another section is another division", base,
			base.edits(t, pieces, strings.Replace(pieces, "butt", "lower", 1), "between: [butt, tip]", "between: [lower, tip]", "length: 82 mm", "length: 80 mm"),
			[]Group{Sections}, "80 mm", "joints[lower+tip].length"},
		{"a fit goes with the division it names", base.edit(t, "finish: {", fitted+"finish: {"),
			base.edits(t, pieces, strings.Replace(pieces, "butt", "lower", 1), "between: [butt, tip]", "between: [lower, tip]"),
			[]Group{Sections}, "", "fitted.modulus.butt"},
		{"without the other division", base,
			base.edits(t, pieces, strings.Replace(pieces, "butt", "lower", 1), "between: [butt, tip]", "between: [lower, tip]", "at: 95 mm", "at: 99 mm"),
			[]Group{RingPattern}, "82 mm", "joints[butt+tip].length"},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := Blend(row.old.spec(t), row.new.spec(t), set(row.taken...))
			if err != nil {
				t.Fatal(err)
			}
			text := ""
			for f := range got.Fields() {
				if f.Path.String() == row.path {
					text = f.Text
				}
			}
			if text != row.want {
				t.Errorf("%s is %q, want %q", row.path, text, row.want)
			}
		})
	}
}

func TestBlendNoRod(t *testing.T) {
	// A hold of 2.6 m on a rod of 2448 mm.
	old := goodSource(t).edit(t, "finish: {", "held: {to: 2.6 m}\nfinish: {")
	_, err := Blend(old.spec(t), shortened(t).spec(t), set(BlankOf("butt")))
	if err == nil || !strings.Contains(err.Error(), "held.to") {
		t.Errorf("error %v, want one of held.to", err)
	}
}

// TestBlendEnds edits at random and checks that a blend takes over the edits of
// the groups given and no other; with none it is the old spec, with all the new.
func TestBlendEnds(t *testing.T) {
	base := goodSource(t).edit(t, oneRing, fourRings)
	edits := []struct{ old, new string }{
		{"{at: 95 mm", "{at: 99 mm"}, {"{at: 300 mm", "{at: 30 cm"}, {"at: 600 mm, part: SL-6", "at: 640 mm, part: DL-16"},
		{"  - {at: 300 mm, part: SL-6}\n", ""}, {"length: 82 mm", "length: 84 mm"}, {"diameter: 27 mm", "diameter: 26 mm"},
		{"mass: 2.4 g", "mass: 2.5 g"}, {"colour: moss", "colour: rust"}, {"modulus: 110 GPa", "modulus: 112 GPa"},
		{"wall: 1.05 mm", "wall: 1 mm"}, {"weight: at most 205 g", "weight: at most 200 g"}, {"casts: 10 g to 40 g", "casts: 12 g to 40 g"},
		{"whipping: 24 mm", "whipping: 0.025 m"}, {"material: cork", "material: eva"}, {"name: Skerry 10", "name: Skerry"},
		{"reel: fixed-spool", "reel: multiplier"}, {"wraps: {tip: 3,", "wraps: {tip: 2.5,"}, {"  - {at: 1000 mm", "  - {at: 800 mm, part: DL-20}\n  - {at: 1100 mm"},
		{"length: 10 ft", "length: 3050 mm"},
	}
	rapid.Check(t, func(t *rapid.T) {
		pick := func(label string) *models.Spec {
			s := base
			for i, e := range edits {
				if rapid.Bool().Draw(t, fmt.Sprint(label, i)) && strings.Count(s.model+s.parts+s.materials, e.old) == 1 {
					s.model = strings.Replace(s.model, e.old, e.new, 1)
					s.parts = strings.Replace(s.parts, e.old, e.new, 1)
					s.materials = strings.Replace(s.materials, e.old, e.new, 1)
				}
			}
			spec, err := s.resolve()
			if err != nil {
				t.Fatal(err)
			}
			return spec
		}
		a, b := pick("a"), pick("b")
		all := groups(Specs(a, b))
		taken := map[Group]bool{}
		for i, g := range all {
			taken[g] = rapid.Bool().Draw(t, fmt.Sprint("group", i))
		}
		for _, end := range []struct {
			taken map[Group]bool
			want  *models.Spec
		}{{nil, a}, {set(all...), b}} {
			if got, err := Blend(a, b, end.taken); err != nil || got.ID() != end.want.ID() {
				t.Fatalf("with %v: another spec than at the end: %v", end.taken, err)
			}
		}
		blend, err := Blend(a, b, taken)
		if err != nil {
			t.Fatalf("with %v: %v", taken, err)
		}
		for _, g := range groups(Specs(a, blend)) {
			if !taken[g] && g != StatedLength && !(g == RingParts && taken[RingPattern]) {
				t.Fatalf("with %v the blend has changes of %s", taken, g)
			}
		}
		back := map[Group]bool{}
		for _, g := range all {
			back[g] = !taken[g]
		}
		if other, err := Blend(b, a, back); err != nil || other.ID() != blend.ID() {
			t.Fatalf("with %v: from the new spec it is another: %v\n%s\n%s", taken, err, ringsOf(blend), ringsOf(other))
		}
	})
}

// TestBlendEveryField goes between two specs that have every field of the format
// between them.
func TestBlendEveryField(t *testing.T) {
	old := goodSource(t)
	now := old
	drift, err := os.ReadFile("../models/testdata/good/long-drift.yaml")
	if err != nil {
		t.Fatal(err)
	}
	now.model = string(drift)
	a, b := old.spec(t), now.spec(t)
	all := groups(Specs(a, b))
	if blend, err := Blend(a, b, set(all...)); err != nil || blend.ID() != b.ID() {
		t.Errorf("with all edits it is not the new spec: %v", err)
	}
	for _, g := range all {
		t.Run(g.String(), func(t *testing.T) {
			blend, err := Blend(a, b, set(g))
			if err != nil {
				t.Fatal(err)
			}
			told := groups(Specs(a, blend))
			if slices.Index(told, g) < 0 && g != StatedLength { // which follows the sections
				t.Errorf("it has changes of %v", told)
			}
			blend, err = Blend(b, a, set(g))
			if err != nil {
				t.Fatal(err)
			}
			if told := groups(Specs(b, blend)); slices.Index(told, g) < 0 && g != StatedLength {
				t.Errorf("back it has changes of %v", told)
			}
		})
	}
}

func TestEdits(t *testing.T) {
	changes := []Change{
		{Kind: Altered, Path: models.Path{{Key: "a"}}, Group: Handle}, {Kind: Respelled, Path: models.Path{{Key: "b"}}, Group: Finish},
		{Kind: Moved, Path: models.Path{{Key: "c"}}, Group: RingPattern}, {Kind: Altered, Path: models.Path{{Key: "d"}}, Group: Handle},
	}
	want := []Edit{{Handle, []Change{changes[0], changes[3]}}, {RingPattern, changes[2:3]}}
	if d := cmp.Diff(want, Edits(changes)); d != "" {
		t.Errorf("edits (-want +got):\n%s", d)
	}
	if !slices.Equal(groups(changes), []Group{Handle, RingPattern}) {
		t.Errorf("groups %v", groups(changes))
	}
}

// TestAsKnown holds that a fit goes back to a rod on the same blank, with nothing else
// of the new one, and to none on another.
func TestAsKnown(t *testing.T) {
	const fitted = "fitted: {to: rod 0031, date: 2026-03-02, modulus: {butt: 2 %}}\n"
	base := goodSource(t)
	now := base.edits(t, "finish: {", fitted+"finish: {", "diameter: 27 mm", "diameter: 26 mm")
	known := AsKnown(base.spec(t), now.spec(t))
	if known == nil || known.Fitted == nil {
		t.Fatalf("the old rod is not as known since: %v", known)
	}
	if want := base.edit(t, "finish: {", fitted+"finish: {").spec(t).ID(); known.ID() != want {
		t.Error("more went back to the old rod than the fit")
	}
	if AsKnown(base.spec(t), base.edit(t, "diameter: 27 mm", "diameter: 26 mm").spec(t)) != nil {
		t.Error("something is known since where nothing was fitted")
	}
	other := now.edits(t, "wall: 1.05 mm", "wall: 1.1 mm")
	if AsKnown(base.spec(t), other.spec(t)) != nil {
		t.Error("the fit of another blank went back to the old one")
	}
}
