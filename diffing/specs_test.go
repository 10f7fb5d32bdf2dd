package diffing

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rodlore/models"
)

// source is a spec and the shared files it is resolved with, as text.
type source struct{ model, parts, materials string }

func goodSource(t testing.TB) source {
	t.Helper()
	read := func(file string) string {
		src, err := os.ReadFile("../models/testdata/good/" + file)
		if err != nil {
			t.Fatal(err)
		}
		return string(src)
	}
	return source{read("skerry-10.yaml"), read("parts.yaml"), read("materials.yaml")}
}

// edit puts new for old in one of the files; old must stand there once.
func (s source) edit(t testing.TB, old, now string) source {
	t.Helper()
	for _, f := range []*string{&s.model, &s.parts, &s.materials} {
		if strings.Count(*f, old) == 1 {
			*f = strings.Replace(*f, old, now, 1)
			return s
		}
	}
	t.Fatalf("%q does not stand once in any file", old)
	return s
}

func (s source) spec(t testing.TB) *models.Spec {
	t.Helper()
	spec, err := s.resolve()
	if err != nil {
		t.Fatal(err)
	}
	return spec
}

func (s source) resolve() (*models.Spec, error) {
	m, err := models.ParseModel("m.yaml", []byte(s.model))
	if err != nil {
		return nil, err
	}
	parts, err := models.ParseParts("parts.yaml", []byte(s.parts))
	if err != nil {
		return nil, err
	}
	materials, err := models.ParseMaterials("materials.yaml", []byte(s.materials))
	if err != nil {
		return nil, err
	}
	return models.Resolve(m, parts, materials)
}

// flatChange is a Change with its path and its sides as people write them.
type flatChange struct {
	Kind           Kind
	Path, Old, New string
	Group          Group
}

func asWritten(c Content) string {
	text := c.What + c.Want.Text
	if c.At.Text != "" {
		text += " at " + c.At.Text
	}
	for i, v := range c.Values {
		if i > 0 {
			text += ", "
		}
		if c.Stock {
			text += v.Key + " "
		}
		text += v.Text
	}
	return text
}

func TestSpecs(t *testing.T) {
	const ring = "  - {at: 95 mm, part: SL-6}\n"
	base := goodSource(t)
	two := base.edit(t, ring, ring+"  - {at: 300 mm, part: SL-6}\n  - {at: 700 mm, part: SL-6}\n")
	for _, row := range []struct {
		name     string
		old, new source
		want     []flatChange
	}{
		{"nothing", base, base, nil},
		{"comments and layout", base, base.edit(t, "rings:\n  - {at: 0 mm", "rings: # from the tip\n  -  {at:   0 mm"), nil},
		{"a value", base, base.edit(t, "length: 82 mm", "length: 90 mm").edit(t, "length: 10 ft", "length: 3040 mm"), []flatChange{
			{Altered, "length", "10 ft", "3040 mm", StatedLength},
			{Altered, "joints[butt+tip].length", "82 mm", "90 mm", Joints},
		}},
		{"another spelling", base, base.edit(t, "length: 10 ft", "length: 3048 mm"), []flatChange{
			{Respelled, "length", "10 ft", "3048 mm", StatedLength},
		}},
		{"a ring moved", base, base.edit(t, "{at: 95 mm", "{at: 110 mm"), []flatChange{
			{Moved, "rings[at 110 mm]", "SL-6 at 95 mm", "SL-6 at 110 mm", RingPattern},
		}},
		{"a ring put in", base, base.edit(t, ring, ring+"  - {at: 300 mm, part: SL-6}\n"), []flatChange{
			{Added, "rings[at 300 mm]", "", "SL-6 at 300 mm", RingPattern},
		}},
		{"a ring fewer, the others spread", two,
			two.edit(t, "  - {at: 300 mm, part: SL-6}\n", "").edit(t, "{at: 700 mm", "{at: 600 mm").edit(t, "{at: 95 mm", "{at: 120 mm"), []flatChange{
				{Moved, "rings[at 120 mm]", "SL-6 at 95 mm", "SL-6 at 120 mm", RingPattern},
				{Removed, "rings[at 300 mm]", "SL-6 at 300 mm", "", RingPattern},
				{Moved, "rings[at 600 mm]", "SL-6 at 700 mm", "SL-6 at 600 mm", RingPattern},
			}},
		{"a smaller butt ring moved up", base, base.edit(t, "{at: 1480 mm, part: DL-16", "{at: 1400 mm, part: SL-6"), []flatChange{
			{Moved, "rings[at 1400 mm]", "DL-16 at 1480 mm", "SL-6 at 1400 mm", RingPattern},
			{Altered, "rings[at 1400 mm].part", "DL-16", "SL-6", RingParts},
		}},
		{"a longer whipping", base, base.edit(t, "whipping: 24 mm", "whipping: 28 mm"), []flatChange{
			{Altered, "rings[at 1480 mm].whipping", "24 mm", "28 mm", Finish},
		}},
		{"a shared part", base, base.edit(t, "mass: 2.4 g", "mass: 2.6 g"), []flatChange{
			{Altered, "parts[DL-16].mass", "2.4 g", "2.6 g", SharedBy("DL-16")},
		}},
		{"a section cut at its butt, the taper as it was", base,
			base.edits(t, "length: 1565 mm\n    tube", "length: 1561 mm\n    tube", "{at: 1565 mm, outside: 14.2 mm", "{at: 1561 mm, outside: 14.2 mm", "length: 10 ft", "length: 3044 mm"), []flatChange{
				{Altered, "length", "10 ft", "3044 mm", StatedLength},
				{Altered, "sections[butt].length", "1565 mm", "1561 mm", CutOf("butt")},
				{Moved, "sections[butt].tube[at 1561 mm]", " at 1565 mm", " at 1561 mm", CutOf("butt")},
			}},
		{"a section cut where a joint is shorter", base,
			base.edits(t, "length: 1565 mm\n    tube", "length: 1561 mm\n    tube", "{at: 0 mm,    outside: 8.9 mm", "{at: 0 mm,    outside: 8.91 mm",
				"{at: 1565 mm, outside: 14.2 mm", "{at: 1561 mm, outside: 14.2 mm", "length: 82 mm", "length: 78 mm"), []flatChange{
				{Altered, "sections[butt].length", "1565 mm", "1561 mm", Joints},
				{Altered, "sections[butt].tube[at 0 mm].outside", "8.9 mm", "8.91 mm", Joints},
				{Moved, "sections[butt].tube[at 1561 mm]", " at 1565 mm", " at 1561 mm", Joints},
				{Altered, "joints[butt+tip].length", "82 mm", "78 mm", Joints},
			}},
		{"a section cut at its butt by as much as a joint is shorter", base,
			base.edits(t, "length: 1565 mm\n    tube", "length: 1561 mm\n    tube", "{at: 1565 mm, outside: 14.2 mm", "{at: 1561 mm, outside: 14.2 mm", "length: 82 mm", "length: 78 mm"), []flatChange{
				{Altered, "sections[butt].length", "1565 mm", "1561 mm", Joints},
				{Moved, "sections[butt].tube[at 1561 mm]", " at 1565 mm", " at 1561 mm", Joints},
				{Altered, "joints[butt+tip].length", "82 mm", "78 mm", Joints},
			}},
		{"a section cut at its butt where a joint is shorter too", base,
			base.edits(t, "length: 1565 mm\n    tube", "length: 1562 mm\n    tube", "{at: 1565 mm, outside: 14.2 mm", "{at: 1562 mm, outside: 14.19 mm", "length: 82 mm", "length: 78 mm"), []flatChange{
				{Altered, "sections[butt].length", "1565 mm", "1562 mm", CutOf("butt")},
				{Moved, "sections[butt].tube[at 1562 mm]", " at 1565 mm", " at 1562 mm", CutOf("butt")},
				{Altered, "sections[butt].tube[at 1562 mm].outside", "14.2 mm", "14.19 mm", CutOf("butt")},
				{Altered, "joints[butt+tip].length", "82 mm", "78 mm", Joints},
			}},
		{"a station more on the line", base,
			base.edit(t, "      - {at: 1565 mm, outside: 14.2 mm", "      - {at: 800 mm, outside: 11.6 mm, wall: 1.15 mm}\n      - {at: 1565 mm, outside: 14.2 mm"), []flatChange{
				{Added, "sections[butt].tube[at 800 mm]", "", " at 800 mm", CutOf("butt")},
			}},
		{"another taper", base, base.edit(t, "{at: 1565 mm, outside: 14.2 mm", "{at: 1565 mm, outside: 14.3 mm"), []flatChange{
			{Altered, "sections[butt].tube[at 1565 mm].outside", "14.2 mm", "14.3 mm", BlankOf("butt")},
		}},
		{"a section shorter and of another taper", base,
			base.edit(t, "length: 1565 mm\n    tube", "length: 1545 mm\n    tube").edit(t, "{at: 1565 mm, outside: 14.2 mm", "{at: 1545 mm, outside: 14.2 mm").
				edit(t, "length: 10 ft", "length: 3028 mm"), []flatChange{
				{Altered, "length", "10 ft", "3028 mm", StatedLength},
				{Altered, "sections[butt].length", "1565 mm", "1545 mm", BlankOf("butt")},
				{Moved, "sections[butt].tube[at 1545 mm]", " at 1565 mm", " at 1545 mm", BlankOf("butt")},
			}},
		{"a grip taken off", base, base.edit(t, "  grips:\n    - {from: 0 mm, to: 120 mm, diameter: 27 mm, material: cork}\n", ""), []flatChange{
			{Removed, "handle.grips[at 0 mm]", "cork at 0 mm", "", Handle},
		}},
		{"both ends of a want", base, base.edit(t, "test curve: 1.5 lb to 1.8 lb", "test curve: 1.4 lb to 1.7 lb"), []flatChange{
			{Altered, "wants.test-curve", "1.5 lb to 1.8 lb", "1.4 lb to 1.7 lb", Settings},
		}},
		{"one end of a want", base, base.edit(t, "test curve: 1.5 lb to 1.8 lb", "test curve: 1.5 lb to 1.7 lb"), []flatChange{
			{Altered, "wants.test-curve", "1.5 lb to 1.8 lb", "1.5 lb to 1.7 lb", Settings},
		}},
		{"a want put in", base, base.edit(t, "  recovery: at least 2.3 Hz\n", "  recovery: at least 2.3 Hz\n  balance: 0.5 m to 0.9 m\n"), []flatChange{
			{Added, "wants.balance", "", "0.5 m to 0.9 m", Settings},
		}},
		{"words", base, base.edit(t, "colour: moss", "colour: slate").edit(t, "bass and sea trout from rock marks", "bass"), []flatChange{
			{Altered, "job", "bass and sea trout from rock marks", "bass", Wording},
			{Altered, "finish.colour", "moss", "slate", Finish},
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			var got []flatChange
			for _, c := range Specs(row.old.spec(t), row.new.spec(t)) {
				got = append(got, flatChange{c.Kind, c.Path.String(), asWritten(c.Old), asWritten(c.New), c.Group})
			}
			if d := cmp.Diff(row.want, got); d != "" && len(got)+len(row.want) > 0 {
				t.Errorf("changes (-want +got):\n%s", d)
			}
		})
	}
}

// TestSpecsMissNothing edits at random: two specs have one identity exactly
// when no change of the rod is told, and what is added one way is removed the
// other.
func TestSpecsMissNothing(t *testing.T) {
	base := goodSource(t)
	edits := []struct{ old, new string }{
		{"{at: 95 mm", "{at: 99 mm"}, {"{at: 95 mm", "{at: 95.0 mm"}, {"part: SL-6}", "part: DL-16}"},
		{"  - {at: 95 mm, part: SL-6}\n", ""}, {"length: 82 mm", "length: 84 mm"}, {"diameter: 27 mm", "diameter: 26 mm"},
		{"mass: 2.4 g", "mass: 2.5 g"}, {"colour: moss", "colour: rust"}, {"modulus: 110 GPa", "modulus: 112 GPa"},
		{"wall: 1.05 mm", "wall: 1 mm"}, {"weight: at most 205 g", "weight: at most 200 g"}, {"casts: 10 g to 40 g", "casts: 12 g to 40 g"},
		{"whipping: 24 mm", "whipping: 0.024 m"}, {"material: cork", "material: eva"},
	}
	rapid.Check(t, func(t *rapid.T) {
		pick := func(label string) source {
			s := base
			for i, e := range edits {
				if rapid.Bool().Draw(t, fmt.Sprint(label, i)) && strings.Count(s.model+s.parts+s.materials, e.old) == 1 {
					s.model = strings.Replace(s.model, e.old, e.new, 1)
					s.parts = strings.Replace(s.parts, e.old, e.new, 1)
					s.materials = strings.Replace(s.materials, e.old, e.new, 1)
				}
			}
			return s
		}
		a, err := pick("a").resolve()
		if err != nil {
			t.Fatal(err)
		}
		b, err := pick("b").resolve()
		if err != nil {
			t.Fatal(err)
		}
		there, back := Specs(a, b), Specs(b, a)
		if ofTheRod(there) != (a.WholeID() != b.WholeID()) {
			t.Fatalf("identities equal: %v, but the changes are %+v", a.WholeID() == b.WholeID(), there)
		}
		if slices.ContainsFunc(there, func(c Change) bool { return c.Kind != Respelled && !c.Beside() }) != (a.ID() != b.ID()) {
			t.Fatalf("rods equal: %v, but the changes are %+v", a.ID() == b.ID(), there)
		}
		if count(there, Added) != count(back, Removed) || count(there, Moved) != count(back, Moved) {
			t.Fatalf("one way %+v\nthe other %+v", there, back)
		}
	})
}

func count(changes []Change, k Kind) int {
	n := 0
	for _, c := range changes {
		if c.Kind == k {
			n++
		}
	}
	return n
}

// ofTheRod reports whether any of the changes is one of the rod and not only of the
// way it is written down.
func ofTheRod(changes []Change) bool {
	return slices.ContainsFunc(changes, func(c Change) bool { return c.Kind != Respelled })
}
