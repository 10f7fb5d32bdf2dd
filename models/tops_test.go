package models_test

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/models"
)

// fineTop goes on the butt of the good Skerry: its bore is that of the mandrel that
// the main tip is rolled on.
const fineTop = `tops:
  - name: fine
    for: watching bites
    casts: 5 g to 20 g
    sections:
      - name: fine tip
        length: 1400 mm
        tube:
          - {at: 0 mm, outside: 1.6 mm, wall: 0.5 mm}
          - {at: 1318 mm, outside: 7.7 mm, wall: 0.7 mm}
          - {at: 1400 mm, outside: 8.2 mm, wall: 0.8 mm}
        material: carbon-30t
    rings:
      - {at: 0 mm, part: T-6}
      - {at: 80 mm, part: SL-6}
      - {at: 365 mm, part: SL-6}
`

func topped(t testing.TB) []byte {
	return append(slices.Clone(read(t, "good/skerry-10.yaml")), fineTop...)
}

func TestTopIsWrittenOut(t *testing.T) {
	main := resolved(t, topped(t))
	top, ok := main.Top("fine")
	if !ok {
		t.Fatal("there is no such top")
	}
	if _, ok := main.Top("heavy"); ok {
		t.Error("there is a top that was not given")
	}
	for _, line := range []struct{ have, want string }{
		{top.Name.Text, "Skerry 10 + fine"},
		{top.Length.Text, "2883 mm"}, // 1565 + 1400 − 82
		{top.Casts.Text, "5 g to 20 g"},
		{top.Sections[0].Name.Text, "butt"}, {top.Sections[1].Name.Text, "fine tip"},
		{top.Joints[0].Between[1].Text, "fine tip"}, {top.Joints[0].Length.Text, "82 mm"},
		{top.Rings[2].At.Text, "365 mm"},
	} {
		if line.have != line.want {
			t.Errorf("got %q, want %q", line.have, line.want)
		}
	}
	if len(top.Rings) != 3 {
		t.Errorf("it has %d rings; those of the main top were on that", len(top.Rings))
	}
	if len(top.Wants)+len(top.Tops) > 0 {
		t.Error("what is wanted of the rod is of its main top")
	}
}

// A ring on the butt stays where it is on that, whatever the length of the top.
func TestRingsOfTheButtStay(t *testing.T) {
	src := bytes.Replace(topped(t), []byte("  - {at: 1480 mm, part: DL-16, whipping: 24 mm}\n"),
		[]byte("  - {at: 1480 mm, part: DL-16}\n  - {at: 2000 mm, part: DL-16, whipping: 24 mm}\n"), 1)
	main := resolved(t, src)
	top, _ := main.Top("fine")
	last := top.Rings[len(top.Rings)-1]
	if last.At.Text != "1835 mm" || last.Whipping.Text != "24 mm" { // the rod is 165 mm shorter
		t.Errorf("the ring of the butt is at %s, whipped over %s", last.At.Text, last.Whipping.Text)
	}
	if last.At.Pos != main.Rings[3].At.Pos {
		t.Errorf("it is said to be written at %s", last.At.Pos)
	}
}

// The identity of the rod covers the dimensions of its tops and nothing that is only
// said of them; that of the rod with its main top alone is another.
func TestIdentityCoversTops(t *testing.T) {
	with, without := resolved(t, topped(t)), good(t, "skerry-10")
	top, _ := with.Top("fine")
	if with.ID() == without.ID() || top.ID() == with.ID() {
		t.Error("the same identity with and without a top")
	}
	for _, c := range []struct {
		old, new string
		same     bool
	}{
		{"at: 365 mm", "at: 366 mm", false},
		{"outside: 7.7 mm", "outside: 7.71 mm", false},
		{"name: fine\n", "name: finer\n", false},
		{"for: watching bites", "for: dull days", true},
		{"casts: 5 g to 20 g", "casts: 5 g to 25 g", true},
		{"at: 365 mm", "at: 36.5 cm", true},
	} {
		src := bytes.Replace(topped(t), []byte(c.old), []byte(c.new), 1)
		if got := resolved(t, src).ID() == with.ID(); got != c.same {
			t.Errorf("%s → %s: the same identity: %t", c.old, c.new, got)
		}
	}
}

// A part that a top alone uses is one of the rod and not of the rod with its main
// top.
func TestPartsOfTops(t *testing.T) {
	src := bytes.Replace(topped(t), []byte("{at: 365 mm, part: SL-6}"), []byte("{at: 365 mm, part: SL-8}"), 1)
	parts, err := models.ParseParts("parts.yaml", read(t, "good/parts.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	eight := *parts.Get("SL-6")
	eight.Name = "SL-8"
	parts.All = append(parts.All, &eight)
	_, materials := goodShared(t)
	spec, err := models.ParseSpec("skerry-10.yaml", src, parts, materials)
	if err != nil {
		t.Fatal(err)
	}
	top, _ := spec.Top("fine")
	if spec.Parts["SL-8"] != nil || top.Parts["SL-8"] == nil {
		t.Error("the part is not where it is used")
	}
	before := spec.ID()
	eight.Mass.Value *= 2
	if spec.ID() == before {
		t.Error("another mass of the part leaves the rod the same")
	}
}

func TestTopFaults(t *testing.T) {
	parts, materials := goodShared(t)
	for _, c := range []struct{ name, old, new, want string }{
		{"bore too wide", "outside: 8.2 mm, wall: 0.8 mm", "outside: 8.6 mm, wall: 0.8 mm",
			"skerry-10.yaml:43:15: tops[fine].sections[fine tip]: does not fit the butt: its bore at its end is 7 mm where that takes 6.6 mm, 0.4 mm too wide"},
		{"bore too narrow further in", "outside: 7.7 mm", "outside: 7.5 mm",
			"skerry-10.yaml:43:15: tops[fine].sections[fine tip]: does not fit the butt: its bore 82 mm from its end is 6.1 mm where that takes 6.312 mm, 0.212 mm too narrow"},
		{"another kind of joint", "    rings:\n      - {at: 0", "    joints:\n      - {between: [butt, fine tip], kind: spigot, length: 82 mm, outside: 6 mm, material: carbon-30t}\n    rings:\n      - {at: 0",
			"skerry-10.yaml:51:9: tops[fine].joints[butt+fine tip]: does not fit the butt: it is of kind spigot, and the joint of that is of kind overlap"},
		{"a longer joint", "    rings:\n      - {at: 0", "    joints:\n      - {between: [butt, fine tip], kind: overlap, length: 182 mm}\n    rings:\n      - {at: 0",
			"skerry-10.yaml:51:9: tops[fine].joints[butt+fine tip]: does not fit the butt: its bore at its end is 6.6 mm where that takes 6.939 mm, 0.339 mm too narrow\n" +
				"skerry-10.yaml:51:9: tops[fine].joints[butt+fine tip]: does not fit the butt: its bore 182 mm from its end is 5.868 mm where that takes 6.312 mm, 0.444 mm too narrow"},
		{"joint to nowhere", "    rings:\n      - {at: 0", "    joints:\n      - {between: [handle, fine tip], kind: overlap, length: 82 mm}\n    rings:\n      - {at: 0",
			`skerry-10.yaml:51:20: tops[fine].joints[handle+fine tip].between: no section that carries a top is named "handle"; the sections are butt, tip`},
		{"ring on the butt", "at: 365 mm", "at: 1500 mm",
			`skerry-10.yaml:53:14: tops[fine].rings[at 1500 mm].at: "1500 mm" is beyond the top, which ends 1400 mm from its tip; the rings of the butt are those of the main top`},
		{"rings out of order", "at: 365 mm", "at: 60 mm",
			`skerry-10.yaml:53:14: tops[fine].rings[at 60 mm].at: "60 mm" comes after "80 mm"; list them in ascending order`},
		{"no such part", "{at: 365 mm, part: SL-6}", "{at: 365 mm, part: SL-9}",
			`skerry-10.yaml:53:28: tops[fine].rings[at 365 mm].part: no ring of parts.yaml is named "SL-9"; did you mean SL-6?`},
		{"named as the butt", "name: fine tip", "name: butt",
			`skerry-10.yaml:43:15: tops[fine].sections[butt].name: "butt" is the name of two sections; the first is in line 8`},
		{"no rings", "    rings:\n      - {at: 0 mm, part: T-6}\n      - {at: 80 mm, part: SL-6}\n      - {at: 365 mm, part: SL-6}\n", "",
			`skerry-10.yaml:39:5: tops[fine].rings: is missing; expected a list of entries such as {at: 95 mm, part: SL-6}`},
		{"a bare blank", "job: bass and sea trout from rock marks", "bare: true",
			"skerry-10.yaml:3:1: reel: does not go with bare: true; take out one of them\n" +
				"skerry-10.yaml:23:1: rings: does not go with bare: true; take out one of them\n" +
				"skerry-10.yaml:27:1: handle: does not go with bare: true; take out one of them\n" +
				"skerry-10.yaml:32:1: finish: does not go with bare: true; take out one of them\n" +
				"skerry-10.yaml:39:5: tops: are of a rod; a bare blank has one top"},
		{"no joint in a top of two sections", "    rings:\n      - {at: 0", "      - {name: finer, length: 500 mm, material: carbon-30t, tube: [{at: 0 mm, outside: 2 mm, wall: 0.5 mm}, {at: 500 mm, outside: 3 mm, wall: 0.5 mm}]}\n    rings:\n      - {at: 0",
			`skerry-10.yaml:39:5: tops[fine].joints: no joint between "fine tip" and "finer"; expected one such as {between: [butt, tip], kind: overlap, length: 82 mm}`},
		{"an @", "name: fine\n", "name: fine@2026\n",
			`skerry-10.yaml:39:11: tops[fine@2026].name: "fine@2026" has a "@", which parts a rod from its revision`},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := bytes.Replace(topped(t), []byte(c.old), []byte(c.new), 1)
			_, err := models.ParseSpec("skerry-10.yaml", src, parts, materials)
			if err == nil {
				t.Fatal("no fault")
			}
			if diff := cmp.Diff(c.want, err.Error()); diff != "" {
				t.Error(diff)
			}
		})
	}
	// With the line above its joints gone the butt has sections that nothing joins.
	lost := bytes.Replace(topped(t), []byte("joints:\n"), nil, 1)
	if _, err := models.ParseSpec("skerry-10.yaml", lost, parts, materials); err == nil || !strings.HasPrefix(err.Error(), "skerry-10.yaml:21:5: sections[#3].name: is missing") {
		t.Errorf("a line lost: %v", err)
	}
	twice := append(topped(t), strings.TrimPrefix(fineTop, "tops:\n")...)
	_, err := models.ParseSpec("skerry-10.yaml", twice, parts, materials)
	if err == nil || !strings.Contains(err.Error(), `"fine" is the name of two tops; the first is in line 39`) {
		t.Errorf("two tops of one name: %v", err)
	}
}

// A sleeve and the readings of the bare blank: what a top leaves of its model.
func TestTopOfThreeSections(t *testing.T) {
	main := good(t, "long-drift")
	top, ok := main.Top("fine")
	if !ok {
		t.Fatal("no top")
	}
	if got := top.TotalLength(); math.Abs(got-(main.TotalLength()-0.2)) > 1e-12 {
		t.Errorf("it is %g m long", got)
	}
	if len(top.Fitted.Modulus) != 1 || top.Fitted.Modulus[0].Section.Text != "butt" {
		t.Errorf("what was fitted of it is %v", top.Fitted.Modulus)
	}
	if rings := len(top.Rings); rings != 2+1 { // one of the middle or butt
		t.Errorf("it has %d rings", rings)
	}
}
