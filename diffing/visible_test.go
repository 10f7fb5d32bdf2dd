package diffing

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"rodlore/models"
)

// limits reads limits from the steps of a range.yaml and, of a source, its parts.
func limits(t testing.TB, steps string, s source) StepLimits {
	t.Helper()
	set, err := models.ParseSettings("range.yaml", []byte(steps))
	if err != nil {
		t.Fatal(err)
	}
	if s.parts == "" {
		return NewStepLimits(set, nil)
	}
	parts, err := models.ParseParts("parts.yaml", []byte(s.parts))
	if err != nil {
		t.Fatal(err)
	}
	return NewStepLimits(set, parts)
}

// told tells sights in a line each.
func told(sights []Sight) []string {
	var lines []string
	for _, s := range sights {
		line := fmt.Sprintf("%s: %s → %s", s.Aspect, toldLooks(s.Old), toldLooks(s.New))
		line += toldBy(s)
		if s.Over() {
			line += ", over " + toldLimit(s)
		}
		lines = append(lines, line)
	}
	return lines
}

func toldBy(s Sight) string {
	by := ""
	switch {
	case s.Unit == "m":
		by = fmt.Sprintf(", %+.0f mm", 1000*s.Size)
	case s.Aspect == ButtRingSize:
		by = ", +" + things(int(s.Size), "size")
	case s.Unit == "1":
		by = fmt.Sprintf(", %+g", s.Size)
	}
	return strings.NewReplacer("+-", "−", "-", "−").Replace(by)
}

func toldLimit(s Sight) string {
	switch {
	case s.Unit == "m":
		return toldLook(Distance(s.Limit))
	case s.Aspect == ButtRingSize:
		return things(int(s.Limit), "size")
	}
	return things(int(s.Limit), string(s.New[0].(Number).Of))
}

func toldLooks(looks []Look) string {
	var list []string
	for _, l := range looks {
		list = append(list, toldLook(l))
	}
	return strings.Join(list, ", ")
}

func toldLook(l Look) string {
	switch l := l.(type) {
	case Number:
		return things(l.N, string(l.Of))
	case Distance:
		return fmt.Sprintf("%.0f mm", 1000*float64(l))
	case RingSize:
		return fmt.Sprintf("%.0f mm", 1000*float64(l))
	case Taper:
		if l.Back == l.Front {
			return toldLook(Distance(l.Back))
		}
		return toldLook(Distance(l.Back)) + " to " + toldLook(Distance(l.Front))
	}
	return fmt.Sprint(l)
}

func things(n int, thing string) string {
	if n != 1 && n != -1 {
		thing += "s"
	}
	return fmt.Sprintf("%d %s", n, thing)
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
			Sight{Aspect: ButtRingPlace, Old: []Look{Distance(1.568)}, New: []Look{Distance(1.468)}, Size: -0.1, Unit: "m", Limit: 0.1016, Own: true}},
		{"none at all", "steps: {butt ring moves: 0 mm}", base, base.edit(t, "at: 1480 mm", "at: 1481 mm"),
			Sight{Aspect: ButtRingPlace, Old: []Look{Distance(1.568)}, New: []Look{Distance(1.567)}, Size: -0.001, Unit: "m", Limit: 0, Own: true}},
		{"a colour that stays", "steps: {blank colour: stays}", base, base.edit(t, "colour: moss", "colour: slate"),
			Sight{Aspect: BlankColour, Old: []Look{Name("moss")}, New: []Look{Name("slate")}, Size: 1, Limit: 0, Own: true}},
		{"a colour that may change", "", base, base.edit(t, "colour: moss", "colour: slate"),
			Sight{Aspect: BlankColour, Old: []Look{Name("moss")}, New: []Look{Name("slate")}, Size: 1, Limit: math.Inf(1)}},
		{"sizes in between that the maker has", "", base.edit(t, "  DL-20:", "  DL-18: {size: 18 mm, height: 24 mm, feet: 2, foot: {length: 12 mm, width: 3 mm, thickness: 0.6 mm, spread: 37 mm}, frame: titanium, mass: 3 g}\n  DL-20:"),
			base.edit(t, "part: DL-16", "part: DL-20"),
			Sight{Aspect: ButtRingSize, Old: []Look{RingSize(0.016)}, New: []Look{RingSize(0.020)}, Size: 2, Unit: "1", Limit: 1}},
		{"sizes without the parts list", "", source{}, base.edit(t, "part: DL-16", "part: DL-20"),
			Sight{Aspect: ButtRingSize, Old: []Look{RingSize(0.016)}, New: []Look{RingSize(0.020)}, Size: 1, Unit: "1", Limit: 1}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := Visible(old, row.new.spec(t), limits(t, row.steps, row.parts))
			got = got[len(got)-1:] // a ring more on the butt section may stand before
			// Places are differences of lengths.
			near := cmpopts.EquateApprox(0, 1e-9)
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
		old, now := base, base
		for _, e := range edits {
			switch rapid.IntRange(0, 2).Draw(rt, e.new) {
			case 1:
				old = old.edit(t, e.old, e.new)
			case 2:
				now = now.edit(t, e.old, e.new)
			}
		}
		there, back := Visible(old.spec(t), now.spec(t), l), Visible(now.spec(t), old.spec(t), l)
		if len(there) != len(back) {
			rt.Fatalf("there %v, back %v", told(there), told(back))
		}
		for i, a := range there {
			b := back[i]
			turned := a.Unit == "" && a.Size == b.Size || math.Abs(a.Size+b.Size) < 1e-12
			if a.Aspect != b.Aspect || !slices.Equal(a.Old, b.New) || !slices.Equal(a.New, b.Old) || !turned || a.Over() != b.Over() {
				rt.Errorf("there %+v, back %+v", a, b)
			}
		}
	})
}
