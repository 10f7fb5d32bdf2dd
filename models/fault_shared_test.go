package models_test

import (
	"bytes"
	"testing"

	"rodlore/models"
)

func TestPartsFaults(t *testing.T) {
	parse := func(file string, src []byte) error {
		_, err := models.ParseParts(file, src)
		return err
	}
	for _, c := range []faultCase{
		{
			name: "unknown kind",
			old:  "seats:",
			bad:  "seat:",
			want: `parts.yaml:6:1: seat: unknown key "seat"; did you mean seats?`,
		},
		{
			name: "name taken",
			old:  "  cap-24:",
			bad:  "  seat-16:",
			want: `parts.yaml:11:3: caps[seat-16]: the name is taken by one of the seats in line 7; give every part its own`,
		},
		{
			name: "name doubled",
			old:  "  DL-20:",
			bad:  "  DL-16:",
			want: `parts.yaml:5:3: rings[DL-16]: given twice; the first is in line 4`,
		},
		{
			name: "name with a bracket",
			old:  "  cap-24:",
			bad:  "  \"cap[24]\":",
			want: `parts.yaml:11:3: caps[cap[24]]: "cap[24]" has a "[", which a name may not have`,
		},
		{
			name: "foot of a tip ring",
			old:  "feet: 0",
			bad:  "feet: 0, foot: {length: 9 mm, width: 1.6 mm, thickness: 0.35 mm}",
			want: `parts.yaml:2:52: rings[T-6].foot: a tip ring, feet 0, sits in a tube and has no foot`,
		},
		{
			name: "foot missing",
			old:  "foot: {length: 9 mm, width: 1.6 mm, thickness: 0.35 mm}, ",
			bad:  "",
			want: `parts.yaml:3:10: rings[SL-6].foot: is missing; a ring on feet needs their length, width and thickness`,
		},
		{
			name: "frame missing",
			old:  "thickness: 0.35 mm}, frame: steel",
			bad:  "thickness: 0.35 mm}",
			want: `parts.yaml:3:10: rings[SL-6].frame: is missing; expected the material of frame and feet, such as steel`,
		},
		{
			name: "spread of one foot",
			old:  "thickness: 0.35 mm}",
			bad:  "thickness: 0.35 mm, spread: 30 mm}",
			want: `parts.yaml:3:110: rings[SL-6].foot.spread: is the distance between two feet; this ring has one`,
		},
		{
			name: "spread missing",
			old:  ", spread: 40 mm",
			bad:  "",
			want: `parts.yaml:5:54: rings[DL-20].foot.spread: is missing; a ring on two feet needs the distance between their middles`,
		},
		{
			name: "three feet",
			old:  "feet: 1",
			bad:  "feet: 3",
			want: `parts.yaml:3:43: rings[SL-6].feet: "3" is not a whole number from 0 to 2`,
		},
		{
			name: "price with a sign",
			old:  "5.20 EUR",
			bad:  "€5.20",
			want: `parts.yaml:4:172: rings[DL-16].price: "€5.20" does not begin with a number; expected a price such as 2.40`,
		},
		{
			name: "price with a word",
			old:  "5.20 EUR",
			bad:  "5.20 euro",
			want: `parts.yaml:4:172: rings[DL-16].price: "5.20 euro" has an unknown unit "euro"; expected a price such as 2.40`,
		},
		{
			name: "mass missing",
			old:  ", mass: 28 g",
			bad:  "",
			want: `parts.yaml:7:12: seats[seat-16].mass: is missing; expected a mass such as 12 g`,
		},
		{
			name: "kind is a list",
			old:  "seats:\n  seat-16: {length: 95 mm, diameter: 22 mm, mass: 28 g, price: 14}",
			bad:  "seats: [seat-16]",
			want: `parts.yaml:6:8: seats: is a list; expected names, each with entries such as {length: 95 mm, diameter: 22 mm, mass: 28 g, price: 14}`,
		},
		{
			name: "part is a word",
			old:  "{length: 95 mm, diameter: 22 mm, mass: 28 g, price: 14}",
			bad:  "heavy",
			want: `parts.yaml:7:12: seats[seat-16]: is "heavy"; expected {length: 95 mm, diameter: 22 mm, mass: 28 g, price: 14}`,
		},
		{
			name: "bonding over the whole",
			old:  "bonding: 35 %",
			bad:  "bonding: 135 %",
			want: `parts.yaml:4:128: rings[DL-16].foot.bonding: "135 %" is too much; expected 0 to 100 %`,
		},
	} {
		c.run(t, "parts.yaml", parse)
	}
}

func TestMaterialFaults(t *testing.T) {
	parse := func(file string, src []byte) error {
		_, err := models.ParseMaterials(file, src)
		return err
	}
	for _, c := range []faultCase{
		{
			name: "modulus in pascals by mistake",
			old:  "110 GPa",
			bad:  "110 Pa",
			want: `materials.yaml:1:23: carbon-30t.modulus: "110 Pa" is too little; expected 1 MPa to 1000 GPa`,
		},
		{
			name: "density in the wrong measure",
			old:  "1550 kg/m3",
			bad:  "1550 kg",
			want: `materials.yaml:1:41: carbon-30t.density: "1550 kg" is a mass; expected a density such as 1550 kg/m3`,
		},
		{
			name: "poisson with unit",
			old:  "poisson: 0.28",
			bad:  "poisson: 0.28 GPa",
			want: `materials.yaml:3:68: uni-125.poisson: "0.28 GPa" is a modulus; expected a plain number such as 0.28`,
		},
		{
			name: "material a number",
			old:  "{density: 210 kg/m3}",
			bad:  "210",
			want: `materials.yaml:2:7: cork: is "210"; expected {modulus: 110 GPa, density: 1550 kg/m3}`,
		},
		{
			name: "misspelt key",
			old:  "across:",
			bad:  "acros:",
			want: `materials.yaml:3:27: uni-125.acros: unknown key "acros"; did you mean across?`,
		},
	} {
		c.run(t, "materials.yaml", parse)
	}
}

func TestSettingsFaults(t *testing.T) {
	parse := func(file string, src []byte) error {
		_, err := models.ParseSettings(file, src)
		return err
	}
	for _, c := range []faultCase{
		{
			name: "units unknown",
			old:  "units: metric ",
			bad:  "units: british ",
			want: `range.yaml:2:8: units: "british" is unknown; expected metric, imperial or both`,
		},
		{
			name: "line unknown",
			old:  "line: from tip ring",
			bad:  "line: slack",
			want: `range.yaml:4:48: test curve.line: "slack" is unknown; expected through rings or from tip ring`,
		},
		{
			name: "turn beyond the possible",
			old:  "turn: 80 deg",
			bad:  "turn: 180 deg",
			want: `range.yaml:4:34: test curve.turn: "180 deg" is too much; expected 10 deg to 120 deg`,
		},
		{
			name: "turn too near the pull",
			old:  "turn: 80 deg",
			bad:  "turn: 87.1 deg",
			want: `range.yaml:4:34: test curve.turn: a turn of 87.1 deg is too near the pull at 90 deg: the tip only nears the direction of the pull, and an eye is off by a degree; take a turn of 87 deg or less`,
		},
		{
			name: "pull too near the usual turn",
			old:  "{pull: 90 deg, turn: 80 deg, line: from tip ring}",
			bad:  "{pull: 86 deg}",
			want: `range.yaml:4:20: test curve.pull: a turn of 85 deg is too near the pull at 86 deg: the tip only nears the direction of the pull, and an eye is off by a degree; take a turn of 83 deg or less`,
		},
		{
			name: "rings a list",
			old:  "rings: 2",
			bad:  "rings: [2]",
			want: `range.yaml:10:16: steps.rings: is a list; expected a whole number from 0 to 50`,
		},
		{
			name: "half a ring",
			old:  "rings: 2",
			bad:  "rings: 0.5",
			want: `range.yaml:10:16: steps.rings: "0.5" is not a whole number from 0 to 50`,
		},
		{
			name: "factor below one",
			old:  "strain factor: 2.5",
			bad:  "strain factor: 0.5",
			want: `range.yaml:6:16: strain factor: "0.5" is too little; expected 1 to 20`,
		},
		{
			name: "load a length",
			old:  "100 g ",
			bad:  "100 mm ",
			want: `range.yaml:5:13: bench load: "100 mm" is a length; expected a force such as 1.5 lb`,
		},
		{
			name: "time a length",
			old:  "steps:",
			bad:  "bench times: {foot: 9 mm}\nsteps:",
			want: `range.yaml:10:21: bench times.foot: "9 mm" is a length; expected a time such as 40 min`,
		},
	} {
		c.run(t, "range.yaml", parse)
	}
}

func TestResolveFaults(t *testing.T) {
	resolve := func(file string, src []byte) error { return parseAndResolve(t, file, src) }
	for _, c := range []faultCase{
		{
			name: "unknown ring",
			old:  "part: SL-6",
			bad:  "part: SL-7",
			want: `skerry-10.yaml:25:23: rings[at 95 mm].part: no ring of parts.yaml is named "SL-7"; did you mean SL-6?`,
		},
		{
			name: "part that is nothing like any",
			old:  "part: SL-6",
			bad:  "part: whatever",
			want: `skerry-10.yaml:25:23: rings[at 95 mm].part: no ring of parts.yaml is named "whatever"; there is T-6, SL-6, DL-16 and DL-20`,
		},
		{
			name: "seat for a ring",
			old:  "part: SL-6",
			bad:  "part: seat-16",
			want: `skerry-10.yaml:25:23: rings[at 95 mm].part: "seat-16" is a seat; expected a ring`,
		},
		{
			name: "tip ring below the tip",
			old:  "part: SL-6",
			bad:  "part: T-6",
			want: `skerry-10.yaml:25:23: rings[at 95 mm].part: "T-6" is a tip ring, feet: 0; expected a ring with 1 or 2 feet`,
		},
		{
			name: "footed ring at the tip",
			old:  "part: T-6",
			bad:  "part: SL-6",
			want: `skerry-10.yaml:24:22: rings[at 0 mm].part: "SL-6" has feet; expected a tip ring, feet: 0, at 0 mm`,
		},
		{
			name: "unknown material",
			old:  "material: carbon-30t",
			bad:  "material: carbon-40t",
			want: `skerry-10.yaml:13:15: sections[butt].material: no material is named "carbon-40t"; did you mean carbon-30t?`,
		},
		{
			name: "lamina for a tube",
			old:  "material: carbon-30t",
			bad:  "material: uni-125",
			want: `skerry-10.yaml:13:15: sections[butt].material: "uni-125" has no modulus, which a tube needs; give it in materials.yaml`,
		},
		{
			name: "cork for a tube",
			old:  "material: carbon-30t",
			bad:  "material: cork",
			want: `skerry-10.yaml:13:15: sections[butt].material: "cork" has no modulus, which a tube needs; give it in materials.yaml`,
		},
		{
			name: "tube material for a ply",
			old:  "material: uni-125",
			bad:  "material: carbon-30t",
			want: `skerry-10.yaml:19:22: sections[tip].rolled.plies[1].material: "carbon-30t" has no along, across, shear, poisson and thickness, which a ply needs; give it in materials.yaml`,
		},
		{
			name: "unknown thread",
			old:  "thread: A",
			bad:  "thread: B",
			want: `skerry-10.yaml:32:18: finish.thread: no thread of parts.yaml is named "B"; there is A`,
		},
		{
			name: "unknown varnish",
			old:  "varnish: two coats",
			bad:  "varnish: too coats",
			want: `skerry-10.yaml:32:30: finish.varnish: no varnish of parts.yaml is named "too coats"; did you mean two coats?`,
		},
		{
			name: "unknown cap",
			old:  "part: cap-24",
			bad:  "part: cap-26",
			want: `skerry-10.yaml:31:20: handle.butt cap.part: no cap of parts.yaml is named "cap-26"; did you mean cap-24?`,
		},
		{
			name: "seat on a ring",
			old:  "560 mm from butt",
			bad:  "1550 mm from butt",
			want: `skerry-10.yaml:28:14: handle.seat.at: "1550 mm from butt" puts the front of seat-16, "95 mm" long, beyond the ring at "1480 mm"`,
		},
		{
			name: "seat beyond the butt",
			old:  "560 mm from butt",
			bad:  "40 mm from butt",
			want: `skerry-10.yaml:28:14: handle.seat.at: "40 mm from butt" puts the end of seat-16, "95 mm" long, beyond the butt`,
		},
		{
			name: "everything at once",
			old:  "rings:\n  - {at: 0 mm, part: T-6}\n  - {at: 95 mm, part: SL-6}\n",
			bad:  "rings:\n  - {at: 0 mm, part: T-7}\n  - {at: 95 mm, part: SL-7}\n",
			want: `skerry-10.yaml:24:22: rings[at 0 mm].part: no ring of parts.yaml is named "T-7"; did you mean T-6?
skerry-10.yaml:25:23: rings[at 95 mm].part: no ring of parts.yaml is named "SL-7"; did you mean SL-6?`,
		},
	} {
		c.run(t, "skerry-10.yaml", resolve)
	}
}

// TestFaultsOfSpecAndNames holds that a spec's own faults do not hide those of
// the names in it, nor the other way round.
func TestFaultsOfSpecAndNames(t *testing.T) {
	src := edited(t, "skerry-10.yaml", "wall: 1.05 mm", "wall: -1 mm")
	src = bytes.Replace(src, []byte("part: SL-6"), []byte("part: SL-7"), 1)
	src = bytes.Replace(src, []byte("material: cork"), []byte("material: krok"), 1)
	parts, materials := goodShared(t)
	_, err := models.ParseSpec("skerry-10.yaml", src, parts, materials)
	want := `skerry-10.yaml:11:47: sections[butt].tube[at 0 mm].wall: "-1 mm" is negative; expected more than 0 and at most 300 mm
skerry-10.yaml:25:23: rings[at 95 mm].part: no ring of parts.yaml is named "SL-7"; did you mean SL-6?
skerry-10.yaml:30:59: handle.grips[at 0 mm].material: no material is named "krok"; did you mean cork?`
	if err == nil || err.Error() != want {
		t.Errorf("got:\n%v\nwant:\n%s", err, want)
	}
	if _, err := models.ParseSpec("skerry-10.yaml", read(t, "good/skerry-10.yaml"), parts, materials); err != nil {
		t.Errorf("the good spec gives %v", err)
	}
}
