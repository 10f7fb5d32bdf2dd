package diffing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rodlore/evaluate/figures"
	"rodlore/models"
)

// limits reads limits from the steps of a range.yaml and, of a source, its parts.
func limits(t testing.TB, steps string, s source) Limits {
	t.Helper()
	set, err := models.ParseSettings("range.yaml", []byte(steps))
	if err != nil {
		t.Fatal(err)
	}
	if s.parts == "" {
		return NewLimits(set, nil)
	}
	parts, err := models.ParseParts("parts.yaml", []byte(s.parts))
	if err != nil {
		t.Fatal(err)
	}
	return NewLimits(set, parts)
}

// told tells sights in a line each.
func told(sights []Sight) []string {
	var lines []string
	for _, s := range sights {
		line := fmt.Sprintf("%s: %s → %s", s.Aspect, s.Old, s.New)
		if s.By != "" {
			line += fmt.Sprintf(", %s", s.By)
		}
		if s.Over() {
			line += ", over " + s.Most
		}
		lines = append(lines, line)
	}
	return lines
}

func TestVisible(t *testing.T) {
	base := goodSource(t)
	four := base.edit(t, oneRing, fourRings) // the lowest at 1480 mm
	handle := "    - {from: 0 mm, to: 120 mm, diameter: 27 mm, material: cork}\n"
	for _, row := range []struct {
		name     string
		old, new source
		want     []string
	}{
		{"nothing", base, base, nil},
		{"what nobody sees", base, base.edits(t, "outside: 8.9 mm", "outside: 8.95 mm", "mass: 0.32 g", "mass: 0.4 g", "job: bass", "job: big bass"), nil},
		{"the same length in other words", base, base.edit(t, "length: 10 ft", "length: 3048 mm"), nil},
		{"a ring moved in the middle", base, base.edit(t, "{at: 95 mm", "{at: 110 mm"), nil},
		{"a ring fewer", four, four.edit(t, "  - {at: 300 mm, part: SL-6}\n", ""), []string{"ring count: 5 rings → 4 rings, −1"}},
		{"three rings fewer", four, base, []string{"ring count: 5 rings → 2 rings, −3, over 1 ring"}},
		{"the butt ring at the limit", base, base.edit(t, "at: 1480 mm", "at: 1380 mm"), []string{
			"butt ring place: 1568 mm → 1668 mm, +100 mm"}},
		{"the butt ring beyond the limit, onto the other section", base, base.edit(t, "at: 1480 mm", "at: 1581 mm"), []string{
			"butt rings: 0 rings → 1 ring, +1", "butt ring place: 1568 mm → 1467 mm, −101 mm, over 100 mm"}},
		{"a size up", base, base.edit(t, "part: DL-16", "part: DL-20"), []string{"butt ring size: 16 mm → 20 mm, +1 size"}},
		{"two sizes down", base.edit(t, "part: DL-16", "part: DL-20"), base.edit(t, "part: DL-16", "part: SL-6"), []string{
			"butt ring size: 20 mm → 6 mm, −2 sizes, over 1 size"}},
		{"no ring but the tip ring", base, base.edits(t, oneRing, "", "  - {at: 1480 mm, part: DL-16, whipping: 24 mm}\n", ""), []string{
			"ring count: 2 rings → 0 rings, −2, over 1 ring"}},
		{"a longer rod", base, base.edits(t, "  - name: butt\n    length: 1565 mm", "  - name: butt\n    length: 1625 mm", "{at: 1565 mm, outside: 14.2 mm", "{at: 1625 mm, outside: 14.2 mm", "length: 10 ft", "length: 3108 mm"), []string{
			"butt ring place: 1568 mm → 1628 mm, +60 mm", "length: 3048 mm → 3108 mm, +60 mm, over 50 mm"}},
		{"another joint", base, base.edits(t, "kind: overlap, length: 82 mm", "kind: spigot, length: 82 mm, gap: 5 mm, outside: 6 mm, material: carbon-30t", "length: 10 ft", "length: 3135 mm", "at: 1480 mm", "at: 1567 mm"), []string{
			"length: 3048 mm → 3135 mm, +87 mm, over 50 mm", "joint kind: overlap → spigot"}},
		{"the handle", base, base.edit(t, "at: 560 mm from butt", "at: 520 mm from butt"), []string{
			"handle length: 608 mm → 568 mm, −40 mm, over 30 mm", "reel seat place: 560 mm → 520 mm, −40 mm, over 30 mm"}},
		{"a thinner grip", base, base.edit(t, "diameter: 27 mm, material: cork", "diameter: 25 mm, ends: 20 mm, material: cork"), []string{
			"handle shape: 27 mm → 25 mm to 20 mm"}},
		{"another cork", base, base.edit(t, "diameter: 27 mm, material: cork", "diameter: 27 mm, material: eva"), []string{
			"handle shape: cork → eva"}},
		{"a grip more and another cap", base, base.edits(t, handle, handle+"    - {from: 430 mm, to: 520 mm, part: fore-90}\n", "  butt cap: {part: cap-24}\n", ""), []string{
			"handle shape: 1 grip, cap-24 → 2 grips, no butt cap"}},
		{"colours", base, base.edit(t, "colour: moss, trim: copper", "colour: slate"), []string{
			"blank colour: moss → slate", "whipping colour: copper → none"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := Visible(row.old.spec(t), row.new.spec(t), limits(t, "", base))
			if diff := cmp.Diff(row.want, told(got)); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
			for _, s := range got {
				if s.Own {
					t.Errorf("%s: a limit of common practice counts as the maker's own", s.Aspect)
				}
			}
		})
	}
}

// shouted are phrases of another language, which has capitals alone.
type shouted struct{}

func (shouted) Look(name string) string { return strings.ToUpper(name) }
func (shouted) Things(thing string, n int) string {
	return fmt.Sprintf("%d × %s", n, strings.ToUpper(thing))
}
func (shouted) Taper(back, front string) string { return back + " TO " + front }

// What is seen is told in other words and digits where they are given, all of it
// but the maker's own names.
func TestVisibleInOtherWords(t *testing.T) {
	base := goodSource(t)
	other := limits(t, "units: imperial\nsteps: {whipping colour: stays}", base).In(shouted{}, figures.Display{Units: "imperial", Comma: true})
	handle := "    - {from: 0 mm, to: 120 mm, diameter: 27 mm, material: cork}\n"
	for _, row := range []struct {
		name string
		new  source
		want []string
	}{
		{"a ring more", base.edit(t, oneRing, oneRing+"  - {at: 300 mm, part: SL-6}\n"), []string{"ring count: 2 × RING → 3 × RING, +1"}},
		{"a size up", base.edit(t, "part: DL-16", "part: DL-20"), []string{"butt ring size: 16 mm → 20 mm, +1 × SIZE"}},
		{"another joint", base.edits(t, "kind: overlap, length: 82 mm", "kind: spigot, length: 82 mm, gap: 5 mm, outside: 6 mm, material: carbon-30t", "length: 10 ft", "length: 3135 mm", "at: 1480 mm", "at: 1567 mm"), []string{
			"length: 120 in → 123 in, +3 in, over 2,0 in", "joint kind: OVERLAP → SPIGOT"}},
		{"a thinner grip", base.edit(t, "diameter: 27 mm, material: cork", "diameter: 25 mm, ends: 20 mm, material: cork"), []string{
			"handle shape: 1,1 in → 1,0 in TO 0,8 in"}},
		{"a grip more and no cap", base.edits(t, handle, handle+"    - {from: 430 mm, to: 520 mm, part: fore-90}\n", "  butt cap: {part: cap-24}\n", ""), []string{
			"handle shape: 1 × GRIP, cap-24 → 2 × GRIP, NO BUTT CAP"}},
		{"no colour", base.edit(t, ", trim: copper", ""), []string{"whipping colour: copper → NONE, over STAYS"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			if diff := cmp.Diff(row.want, told(Visible(base.spec(t), row.new.spec(t), other))); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// A section more changes no joint kind, for there is none to compare.
func TestVisibleSections(t *testing.T) {
	base := goodSource(t)
	three := base.edits(t,
		"joints:\n", "  - name: top\n    length: 500 mm\n    tube:\n      - {at: 0 mm, outside: 1.5 mm, wall: 0.5 mm}\n      - {at: 500 mm, outside: 4 mm, wall: 0.6 mm}\n    material: carbon-30t\njoints:\n  - {between: [tip, top], kind: overlap, length: 50 mm}\n",
		"length: 10 ft", "length: 3498 mm")
	got := told(Visible(base.spec(t), three.spec(t), limits(t, "steps: {length: 1 m, sections: 0}", base)))
	want := []string{"butt ring place: 1568 mm → 2018 mm, +450 mm, over 100 mm",
		"length: 3048 mm → 3498 mm, +450 mm", "sections: 2 sections → 3 sections, +1, over 0 sections"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestVisibleLimits(t *testing.T) {
	base := goodSource(t)
	old := base.spec(t)
	for _, row := range []struct {
		name, steps string
		parts       source
		new         source
		want        Sight
	}{
		{"the maker's own", "steps: {butt ring moves: 4 in}", base, base.edit(t, "at: 1480 mm", "at: 1580 mm"),
			Sight{Aspect: ButtRingPlace, Old: "1568 mm", New: "1468 mm", Size: -0.1, Unit: "m", By: "−100 mm", Limit: 0.1016, Most: "102 mm", Own: true}},
		{"in inches", "units: imperial\nsteps: {butt ring moves: 4 in}", base, base.edit(t, "at: 1480 mm", "at: 1580 mm"),
			Sight{Aspect: ButtRingPlace, Old: "61.7 in", New: "57.8 in", Size: -0.1, Unit: "m", By: "−3.9 in", Limit: 0.1016, Most: "4.0 in", Own: true}},
		{"none at all", "steps: {butt ring moves: 0 mm}", base, base.edit(t, "at: 1480 mm", "at: 1481 mm"),
			Sight{Aspect: ButtRingPlace, Old: "1568 mm", New: "1567 mm", Size: -0.001, Unit: "m", By: "−1 mm", Limit: 0, Most: "0 mm", Own: true}},
		{"a colour that stays", "steps: {blank colour: stays}", base, base.edit(t, "colour: moss", "colour: slate"),
			Sight{Aspect: BlankColour, Old: "moss", New: "slate", Size: 1, Limit: 0, Most: "stays", Own: true}},
		{"a colour that may change", "", base, base.edit(t, "colour: moss", "colour: slate"),
			Sight{Aspect: BlankColour, Old: "moss", New: "slate", Size: 1, Limit: math.Inf(1)}},
		{"sizes in between that the maker has", "", base.edit(t, "  DL-20:", "  DL-18: {size: 18 mm, height: 24 mm, feet: 2, foot: {length: 12 mm, width: 3 mm, thickness: 0.6 mm, spread: 37 mm}, frame: titanium, mass: 3 g}\n  DL-20:"),
			base.edit(t, "part: DL-16", "part: DL-20"),
			Sight{Aspect: ButtRingSize, Old: "16 mm", New: "20 mm", Size: 2, Unit: "1", By: "+2 sizes", Limit: 1, Most: "1 size"}},
		{"sizes without the parts list", "", source{}, base.edit(t, "part: DL-16", "part: DL-20"),
			Sight{Aspect: ButtRingSize, Old: "16 mm", New: "20 mm", Size: 1, Unit: "1", By: "+1 size", Limit: 1, Most: "1 size"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := Visible(old, row.new.spec(t), limits(t, row.steps, row.parts))
			got = got[len(got)-1:] // a ring more on the butt section may stand before
			// Places are differences of lengths.
			near := cmp.Comparer(func(a, b float64) bool { return a == b || math.Abs(a-b) < 1e-9 })
			if diff := cmp.Diff([]Sight{row.want}, got, near); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// What a step changes, the step back changes by as much the other way.
func TestVisibleBackwards(t *testing.T) {
	base := goodSource(t)
	edits := []struct{ old, new string }{
		{oneRing, fourRings}, {"at: 1480 mm", "at: 1400 mm"}, {"part: DL-16, whipping", "part: DL-20, whipping"}, {"colour: moss", "colour: slate"},
		{"at: 560 mm from butt", "at: 540 mm from butt"}, {"diameter: 27 mm", "diameter: 25 mm"}, {"  butt cap: {part: cap-24}\n", ""},
	}
	l := limits(t, "", base)
	rapid.Check(t, func(rt *rapid.T) {
		old, new := base, base
		for _, e := range edits {
			switch rapid.IntRange(0, 2).Draw(rt, e.new) {
			case 1:
				old = old.edit(t, e.old, e.new)
			case 2:
				new = new.edit(t, e.old, e.new)
			}
		}
		there, back := Visible(old.spec(t), new.spec(t), l), Visible(new.spec(t), old.spec(t), l)
		if len(there) != len(back) {
			rt.Fatalf("there %v, back %v", told(there), told(back))
		}
		for i, a := range there {
			b := back[i]
			turned := a.Unit == "" && a.Size == b.Size || math.Abs(a.Size+b.Size) < 1e-12
			if a.Aspect != b.Aspect || a.Old != b.New || a.New != b.Old || !turned || a.Over() != b.Over() {
				rt.Errorf("there %+v, back %+v", a, b)
			}
		}
	})
}
