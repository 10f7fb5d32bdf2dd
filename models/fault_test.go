package models_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"rodlore/models"
)

// edited gives a good file with old replaced by what is bad.
func edited(t *testing.T, file, old, bad string) []byte {
	t.Helper()
	src := read(t, "good/"+file)
	if bytes.Count(src, []byte(old)) != 1 {
		t.Fatalf("%q stands %d times in %s; the test needs it once", old, bytes.Count(src, []byte(old)), file)
	}
	return bytes.Replace(src, []byte(old), []byte(bad), 1)
}

// faultCase is a good file with something made bad, and every fault that must
// be found.
type faultCase struct {
	name     string
	old, bad string
	want     string
}

func (c faultCase) run(t *testing.T, file string, parse func(file string, src []byte) error) {
	t.Run(c.name, func(t *testing.T) {
		err := parse(file, edited(t, file, c.old, c.bad))
		if err == nil {
			t.Fatal("no fault found")
		}
		var faults models.Faults
		if !errors.As(err, &faults) {
			t.Fatalf("the error is a %T", err)
		}
		if got := err.Error(); got != c.want {
			t.Errorf("got:\n%s\nwant:\n%s", got, c.want)
		}
	})
}

func parseModel(file string, src []byte) error {
	_, err := models.ParseModel(file, src)
	return err
}

func TestModelFaults(t *testing.T) {
	for _, c := range []faultCase{
		{
			name: "missing unit",
			old:  "length: 82 mm",
			bad:  "length: 82",
			want: `skerry-10.yaml:22:51: joints[butt+tip].length: "82" has no unit; write it with one, such as 82 mm`,
		},
		{
			name: "wrong unit",
			old:  "length: 82 mm",
			bad:  "length: 5 oz",
			want: `skerry-10.yaml:22:51: joints[butt+tip].length: "5 oz" is a mass; expected a length such as 25 mm`,
		},
		{
			name: "unknown unit",
			old:  "length: 82 mm",
			bad:  "length: 82 mn",
			want: `skerry-10.yaml:22:51: joints[butt+tip].length: "82 mn" has an unknown unit "mn"; did you mean mm?`,
		},
		{
			name: "unit in capitals",
			old:  "length: 82 mm",
			bad:  "length: 82 MM",
			want: `skerry-10.yaml:22:51: joints[butt+tip].length: "82 MM" has an unknown unit "MM"; did you mean mm?`,
		},
		{
			name: "decimal comma",
			old:  "wall: 1.05 mm",
			bad:  "wall: \"1,05 mm\"",
			want: `skerry-10.yaml:11:47: sections[butt].tube[at 0 mm].wall: "1,05 mm" has a comma; write 1.05 mm with a point`,
		},
		{
			name: "comma in thousands",
			old:  "length: 10 ft",
			bad:  "length: 3,048 mm",
			want: `skerry-10.yaml:6:9: length: "3,048 mm" has a comma; write 3.048 mm with a point or 3048 mm without`,
		},
		{
			name: "not a number",
			old:  "wall: 1.05 mm",
			bad:  "wall: .nan",
			want: `skerry-10.yaml:11:47: sections[butt].tube[at 0 mm].wall: ".nan" is not a finite number; expected a length such as 25 mm`,
		},
		{
			name: "infinite",
			old:  "wall: 1.05 mm",
			bad:  "wall: -.inf",
			want: `skerry-10.yaml:11:47: sections[butt].tube[at 0 mm].wall: "-.inf" is not a finite number; expected a length such as 25 mm`,
		},
		{
			name: "infinite with unit",
			old:  "wall: 1.05 mm",
			bad:  "wall: inf mm",
			want: `skerry-10.yaml:11:47: sections[butt].tube[at 0 mm].wall: "inf mm" is not a finite number; expected a length such as 25 mm`,
		},
		{
			name: "exponent",
			old:  "wall: 1.05 mm",
			bad:  "wall: 1e400 mm",
			want: `skerry-10.yaml:11:47: sections[butt].tube[at 0 mm].wall: "1e400 mm" has an exponent; write the number out`,
		},
		{
			name: "negative wall",
			old:  "wall: 1.05 mm",
			bad:  "wall: -1.05 mm",
			want: `skerry-10.yaml:11:47: sections[butt].tube[at 0 mm].wall: "-1.05 mm" is negative; expected more than 0 and at most 300 mm`,
		},
		{
			name: "no wall at all",
			old:  "wall: 1.05 mm",
			bad:  "wall: 0 mm",
			want: `skerry-10.yaml:11:47: sections[butt].tube[at 0 mm].wall: "0 mm" is zero; expected more than 0 and at most 300 mm`,
		},
		{
			name: "wall left empty",
			old:  "wall: 1.05 mm",
			bad:  "wall:",
			want: `skerry-10.yaml:11:9: sections[butt].tube[at 0 mm].wall: is missing; expected a length such as 25 mm
skerry-10.yaml:11:41: sections[butt].tube[at 0 mm].wall:: unknown key "wall:"; did you mean wall?`,
		},
		{
			name: "job left empty",
			old:  "job: bass and sea trout from rock marks",
			bad:  "job:",
			want: `skerry-10.yaml:2:5: job: is empty; expected a word`,
		},
		{
			name: "wall missing",
			old:  ",  wall: 1.05 mm",
			bad:  "",
			want: `skerry-10.yaml:11:9: sections[butt].tube[at 0 mm].wall: is missing; expected a length such as 25 mm`,
		},
		{
			name: "wall thicker than the radius",
			old:  "wall: 1.05 mm",
			bad:  "wall: 4.5 mm",
			want: `skerry-10.yaml:11:47: sections[butt].tube[at 0 mm].wall: "4.5 mm" is thicker than half the outside of "8.9 mm"; a wall of half the outside is solid`,
		},
		{
			name: "wall a list",
			old:  "wall: 1.05 mm",
			bad:  "wall: [1.05 mm]",
			want: `skerry-10.yaml:11:47: sections[butt].tube[at 0 mm].wall: is a list; expected a length such as 25 mm`,
		},
		{
			name: "absurd length",
			old:  "length: 10 ft",
			bad:  "length: 10 km",
			want: `skerry-10.yaml:6:9: length: "10 km" is too much; expected more than 0 and at most 30 m`,
		},
		{
			name: "too long",
			old:  "length: 10 ft",
			bad:  "length: 3048 m",
			want: `skerry-10.yaml:6:9: length: "3048 m" is too much; expected more than 0 and at most 30 m`,
		},
		{
			name: "overlong text",
			old:  "length: 10 ft",
			bad:  "length: " + strings.Repeat("9", 70) + " mm",
			want: `skerry-10.yaml:6:9: length: "999999999999999999999999999999999999999…" is too long; expected a length such as 25 mm`,
		},
		{
			name: "overlong name",
			old:  "name: Skerry 10",
			bad:  "name: " + strings.Repeat("x", 400),
			want: `skerry-10.yaml:1:7: name: "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx…" is too long; the most is 300 letters`,
		},
		{
			name: "divided by zero",
			old:  "wall: 1.05 mm",
			bad:  "wall: 1/0 in",
			want: `skerry-10.yaml:11:47: sections[butt].tube[at 0 mm].wall: "1/0 in" divides by zero`,
		},
		{
			name: "misspelt key",
			old:  "job: bass",
			bad:  "jbo: bass",
			want: `skerry-10.yaml:2:1: jbo: unknown key "jbo"; did you mean job?`,
		},
		{
			name: "unknown key",
			old:  "job: bass",
			bad:  "length of cork: bass",
			want: `skerry-10.yaml:2:1: length of cork: unknown key "length of cork"; known here: name, was, job, reel, casts, line, length, sections, joints, rings, handle, held, finish, wants, tolerances`,
		},
		{
			name: "key of a station misspelt",
			old:  "wall: 1.05 mm",
			bad:  "wal: 1.05 mm",
			want: `skerry-10.yaml:11:9: sections[butt].tube[at 0 mm].wall: is missing; expected a length such as 25 mm
skerry-10.yaml:11:41: sections[butt].tube[at 0 mm].wal: unknown key "wal"; did you mean wall?`,
		},
		{
			name: "doubled key",
			old:  "length: 10 ft",
			bad:  "length: 10 ft\nlength: 3048 mm",
			want: `skerry-10.yaml:7:1: length: given twice; the first is in line 6`,
		},
		{
			name: "reel missing",
			old:  "reel: fixed-spool\n",
			bad:  "",
			want: `skerry-10.yaml:1:1: reel: is missing; expected fixed-spool, multiplier, centrepin or fly`,
		},
		{
			name: "reel unknown",
			old:  "reel: fixed-spool",
			bad:  "reel: spinning",
			want: `skerry-10.yaml:3:7: reel: "spinning" is unknown; expected fixed-spool, multiplier, centrepin or fly`,
		},
		{
			name: "reel kind missing",
			old:  "reel: fixed-spool",
			bad:  "reel: {mass: 300 g}",
			want: `skerry-10.yaml:3:7: reel.kind: is missing; expected fixed-spool, multiplier, centrepin or fly`,
		},
		{
			name: "rings missing",
			old:  "rings:\n  - {at: 0 mm, part: T-6}\n  - {at: 95 mm, part: SL-6}\n  - {at: 1480 mm, part: DL-16, whipping: 24 mm}\n",
			bad:  "",
			want: `skerry-10.yaml:1:1: rings: is missing; expected a list of entries such as {at: 95 mm, part: SL-6}`,
		},
		{
			name: "rings empty",
			old:  "rings:\n  - {at: 0 mm, part: T-6}\n  - {at: 95 mm, part: SL-6}\n  - {at: 1480 mm, part: DL-16, whipping: 24 mm}\n",
			bad:  "rings: []\n",
			want: `skerry-10.yaml:23:8: rings: is an empty list; expected a list of entries such as {at: 95 mm, part: SL-6}`,
		},
		{
			name: "no tip ring",
			old:  "  - {at: 0 mm, part: T-6}\n",
			bad:  "",
			want: `skerry-10.yaml:24:10: rings[at 95 mm].at: the first ring is at "95 mm"; expected the tip ring at 0 mm`,
		},
		{
			name: "rings out of order",
			old:  "at: 95 mm",
			bad:  "at: 1500 mm",
			want: `skerry-10.yaml:26:10: rings[at 1480 mm].at: "1480 mm" comes after "1500 mm"; list them in ascending order`,
		},
		{
			name: "ring twice",
			old:  "at: 1480 mm",
			bad:  "at: 9.5 cm",
			want: `skerry-10.yaml:26:10: rings[at 95 mm].at: "9.5 cm" is given twice`,
		},
		{
			name: "ring beyond the butt",
			old:  "at: 1480 mm",
			bad:  "at: 3480 mm",
			want: `skerry-10.yaml:26:10: rings[at 3480 mm].at: "3480 mm" is beyond the butt; the rod is "10 ft" long`,
		},
		{
			name: "ring on the handle",
			old:  "at: 1480 mm",
			bad:  "at: 2980 mm",
			want: `skerry-10.yaml:26:10: rings[at 2980 mm].at: "2980 mm" is on the handle, which begins 2928 mm from the tip`,
		},
		{
			name: "ring from the butt",
			old:  "at: 1480 mm",
			bad:  "at: 1480 mm from butt",
			want: `skerry-10.yaml:26:10: rings[at 1480 mm].at: "1480 mm from butt" is measured from the butt; expected it from the tip`,
		},
		{
			name: "seat from the tip",
			old:  "560 mm from butt",
			bad:  "560 mm from tip",
			want: `skerry-10.yaml:28:14: handle.seat.at: "560 mm from tip" is measured from the tip; expected it from the butt`,
		},
		{
			name: "length from the butt",
			old:  "length: 82 mm",
			bad:  "length: 82 mm from butt",
			want: `skerry-10.yaml:22:51: joints[butt+tip].length: "82 mm from butt" says from where; expected the plain length`,
		},
		{
			name: "sections that do not add up",
			old:  "length: 10 ft",
			bad:  "length: 10 ft 6 in",
			want: `skerry-10.yaml:6:9: length: "10 ft 6 in" is 3200.4 mm, but the sections as joined come to 3048 mm; they may differ by 5 mm`,
		},
		{
			name: "overlap longer than a section",
			old:  "length: 82 mm",
			bad:  "length: 1600 mm",
			want: `skerry-10.yaml:22:51: joints[butt+tip].length: "1600 mm" is as long as a section it joins, 1565 mm`,
		},
		{
			name: "stations off the section's end",
			old:  "{at: 1565 mm, outside: 14.2 mm",
			bad:  "{at: 1550 mm, outside: 14.2 mm",
			want: `skerry-10.yaml:12:14: sections[butt].tube[at 1550 mm].at: the last station is at "1550 mm"; expected the length of the section, "1565 mm"`,
		},
		{
			name: "stations not from the thin end",
			old:  "{at: 0 mm,    outside: 8.9 mm",
			bad:  "{at: 10 mm,    outside: 8.9 mm",
			want: `skerry-10.yaml:11:14: sections[butt].tube[at 10 mm].at: the first station is at "10 mm"; expected 0 mm, the thin end`,
		},
		{
			name: "stations out of order",
			old:  "{at: 1565 mm, outside: 14.2 mm",
			bad:  "{at: 1565 mm, outside: 10 mm, wall: 1 mm}\n      - {at: 700 mm, outside: 14.2 mm",
			want: `skerry-10.yaml:13:14: sections[butt].tube[at 700 mm].at: "700 mm" comes after "1565 mm"; list them in ascending order`,
		},
		{
			name: "section made in two ways",
			old:  "    material: carbon-30t\n",
			bad:  "    material: carbon-30t\n    stiffness: [{at: 0 mm, ei: 1 N·m2, mass: 9 g/m, outside: 2 mm}, {at: 1565 mm, ei: 1 N·m2, mass: 9 g/m, outside: 2 mm}]\n",
			want: `skerry-10.yaml:8:5: sections[butt]: is made in 2 ways; expected one of tube, rolled or stiffness`,
		},
		{
			name: "tube without material",
			old:  "    material: carbon-30t\n",
			bad:  "",
			want: `skerry-10.yaml:8:5: sections[butt].material: is missing; a tube needs one`,
		},
		{
			name: "material beside plies",
			old:  "    rolled:\n",
			bad:  "    material: carbon-30t\n    rolled:\n",
			want: `skerry-10.yaml:16:15: sections[tip].material: belongs to a tube; expected it in the plies or not at all`,
		},
		{
			name: "two sections of one name",
			old:  "name: tip",
			bad:  "name: butt",
			want: `skerry-10.yaml:14:11: sections[butt].name: "butt" is the name of two sections; the first is in line 8`,
		},
		{
			name: "bracket in a name",
			old:  "name: tip",
			bad:  "name: ti[p",
			want: `skerry-10.yaml:14:11: sections[ti[p].name: "ti[p" has a "[", which a name may not have`,
		},
		{
			name: "joint of unknown section",
			old:  "[butt, tip]",
			bad:  "[butt, top]",
			want: `skerry-10.yaml:22:16: joints[butt+top].between: no section is named "top"; expected butt, tip`,
		},
		{
			name: "joint the wrong way round",
			old:  "[butt, tip]",
			bad:  "[tip, butt]",
			want: `skerry-10.yaml:22:16: joints[tip+butt].between: tip and butt are no neighbours, butt side first; the sections are butt, tip`,
		},
		{
			name: "joint between one",
			old:  "[butt, tip]",
			bad:  "[butt]",
			want: `skerry-10.yaml:22:15: joints[butt].between: is a list; expected the names of two sections such as [butt, tip]`,
		},
		{
			name: "joint missing",
			old:  "joints:\n  - {between: [butt, tip], kind: overlap, length: 82 mm}\n",
			bad:  "",
			want: `skerry-10.yaml:1:1: joints: no joint between "butt" and "tip"; expected one such as {between: [butt, tip], kind: overlap, length: 82 mm}`,
		},
		{
			name: "joint doubled",
			old:  "joints:\n",
			bad:  "joints:\n  - {between: [butt, tip], kind: overlap, length: 82 mm}\n",
			want: `skerry-10.yaml:23:16: joints[butt+tip].between: butt and tip are joined twice; the first joint is in line 22`,
		},
		{
			name: "joint kind unknown",
			old:  "kind: overlap",
			bad:  "kind: glued",
			want: `skerry-10.yaml:22:34: joints[butt+tip].kind: "glued" is unknown; expected overlap, spigot or ferrule`,
		},
		{
			name: "spigot without diameter and material",
			old:  "kind: overlap",
			bad:  "kind: spigot",
			want: `skerry-10.yaml:6:9: length: "10 ft" is 3048 mm, but the sections as joined come to 3130 mm; they may differ by 5 mm
skerry-10.yaml:22:5: joints[butt+tip].outside: is missing; a spigot needs its diameter
skerry-10.yaml:22:5: joints[butt+tip].material: is missing; a spigot needs one`,
		},
		{
			name: "ferrule without wall",
			old:  "kind: overlap",
			bad:  "kind: ferrule, outside: 10 mm, material: brass",
			want: `skerry-10.yaml:6:9: length: "10 ft" is 3048 mm, but the sections as joined come to 3130 mm; they may differ by 5 mm
skerry-10.yaml:22:5: joints[butt+tip].wall: is missing; a ferrule is a sleeve and needs one`,
		},
		{
			name: "gap in an overlap",
			old:  "kind: overlap",
			bad:  "kind: overlap, gap: 3 mm, mass: 2 g",
			want: `skerry-10.yaml:22:48: joints[butt+tip].gap: a gap is left at a spigot only; this is an overlap
skerry-10.yaml:22:60: joints[butt+tip].mass: belongs to a spigot or ferrule; an overlap has no plug or sleeve`,
		},
		{
			name: "ply angle too large",
			old:  "angle: 90",
			bad:  "angle: 100",
			want: `skerry-10.yaml:20:42: sections[tip].rolled.plies[2].angle: "100" is too much; expected -90 deg to 90 deg`,
		},
		{
			name: "ply angle a length",
			old:  "angle: 90",
			bad:  "angle: 90 mm",
			want: `skerry-10.yaml:20:42: sections[tip].rolled.plies[2].angle: "90 mm" is a length; expected an angle such as 45 deg`,
		},
		{
			name: "ply beyond the section",
			old:  "angle: 90, wraps: 1",
			bad:  "angle: 90, wraps: 1, from: 1000 mm, to: 1600 mm",
			want: `skerry-10.yaml:20:75: sections[tip].rolled.plies[2].to: "1600 mm" is beyond the section, which is "1565 mm" long`,
		},
		{
			name: "ply from beyond to",
			old:  "angle: 90, wraps: 1",
			bad:  "angle: 90, wraps: 1, from: 1000 mm, to: 600 mm",
			want: `skerry-10.yaml:20:75: sections[tip].rolled.plies[2].to: "600 mm" is not beyond from, "1000 mm"`,
		},
		{
			name: "no wraps",
			old:  "angle: 90, wraps: 1",
			bad:  "angle: 90, wraps: 0",
			want: `skerry-10.yaml:20:53: sections[tip].rolled.plies[2].wraps: "0" is zero; expected more than 0 and at most 100`,
		},
		{
			name: "grip without diameter",
			old:  "diameter: 27 mm, material: cork",
			bad:  "material: cork",
			want: `skerry-10.yaml:30:7: handle.grips[at 0 mm]: needs either part or both material and diameter`,
		},
		{
			name: "grip of two kinds",
			old:  "diameter: 27 mm, material: cork",
			bad:  "diameter: 27 mm, material: cork, part: fore-90",
			want: `skerry-10.yaml:30:71: handle.grips[at 0 mm].part: a bought grip has its own diameter and material; give part or those two`,
		},
		{
			name: "grip backwards",
			old:  "{from: 0 mm, to: 120 mm",
			bad:  "{from: 120 mm, to: 100 mm",
			want: `skerry-10.yaml:30:26: handle.grips[at 120 mm].to: "100 mm" is not beyond from, "120 mm"`,
		},
		{
			name: "grip beyond the tip",
			old:  "to: 120 mm",
			bad:  "to: 3120 mm",
			want: `skerry-10.yaml:30:24: handle.grips[at 0 mm].to: "3120 mm" is beyond the tip; the rod is "10 ft" long`,
		},
		{
			name: "grips inside each other",
			old:  "    - {from: 0 mm, to: 120 mm",
			bad:  "    - {from: 0 mm, to: 200 mm, diameter: 27 mm, material: cork}\n    - {from: 150 mm, to: 220 mm",
			want: `skerry-10.yaml:31:14: handle.grips[at 150 mm].from: "150 mm" is inside the grip before it, which reaches to "200 mm"`,
		},
		{
			name: "no seat",
			old:  "  seat: {at: 560 mm from butt, part: seat-16}\n",
			bad:  "",
			want: `skerry-10.yaml:28:3: handle.seat: is missing; expected one, or where the reel sits as reel: {at: 560 mm from butt}`,
		},
		{
			name: "handle empty",
			old:  "handle:\n  seat: {at: 560 mm from butt, part: seat-16}\n  grips:\n    - {from: 0 mm, to: 120 mm, diameter: 27 mm, material: cork}\n",
			bad:  "handle:\n",
			want: `skerry-10.yaml:28:3: handle.seat: is missing; expected one, or where the reel sits as reel: {at: 560 mm from butt}
skerry-10.yaml:28:3: handle: has neither grips nor a seat; expected either, or held: {to: 620 mm}`,
		},
		{
			name: "held beyond the tip",
			old:  "finish:",
			bad:  "held: {to: 4 m}\nfinish:",
			want: `skerry-10.yaml:32:12: held.to: "4 m" is beyond the tip; the rod is "10 ft" long`,
		},
		{
			name: "casts the wrong way round",
			old:  "10 g to 40 g",
			bad:  "40 g to 10 g",
			want: `skerry-10.yaml:4:8: casts: "40 g to 10 g" runs from more to less; write the smaller first`,
		},
		{
			name: "casts half without unit",
			old:  "10 g to 40 g",
			bad:  "10 to 40 g",
			want: `skerry-10.yaml:4:8: casts: "10" has no unit; write it with one, such as 10 g`,
		},
		{
			name: "want of an unknown figure",
			old:  "recovery: at least",
			bad:  "recvery: at least",
			want: `skerry-10.yaml:36:3: wants.recvery: unknown figure "recvery"; did you mean recovery?`,
		},
		{
			name: "want of the wrong measure",
			old:  "at most 205 g",
			bad:  "at most 205 mm",
			want: `skerry-10.yaml:34:11: wants.weight: "205 mm" is a length; expected a mass such as 12 g`,
		},
		{
			name: "want twice in two spellings",
			old:  "recovery: at least",
			bad:  "test-curve: 1 lb\n  recovery: at least",
			want: `skerry-10.yaml:36:3: wants.test-curve: given twice under two spellings`,
		},
		{
			name: "want no limit",
			old:  "at most 205 g",
			bad:  "light",
			want: `skerry-10.yaml:34:11: wants.weight: "light" does not begin with a number; expected a mass such as 12 g`,
		},
		{
			name: "wants a list",
			old:  "wants:\n  weight: at most 205 g\n  test curve: 1.5 lb to 1.8 lb\n  recovery: at least 2.3 Hz\n",
			bad:  "wants: [light]\n",
			want: `skerry-10.yaml:33:8: wants: is a list; expected figures and limits such as {weight: at most 205 g}`,
		},
		{
			name: "tolerance in percent of a length",
			old:  "{wall: 0.04 mm}",
			bad:  "{wall: 4 %}",
			want: `skerry-10.yaml:37:20: tolerances.wall: "4 %" is a share; expected a length such as 25 mm`,
		},
		{
			name: "share without percent",
			old:  "{wall: 0.04 mm}",
			bad:  "{modulus: 0.03}",
			want: `skerry-10.yaml:37:23: tolerances.modulus: "0.03" has no unit; expected a share such as 3 %`,
		},
		{
			name: "anchor and alias",
			old:  "length: 82 mm",
			bad:  "length: &overlap 82 mm, gap: *overlap",
			want: `skerry-10.yaml:22:51: &overlap is an anchor; write the value out where it is needed
skerry-10.yaml:22:72: *overlap is an alias; write the value out`,
		},
		{
			name: "alias for a list entry",
			old:  "  - {at: 0 mm, part: T-6}\n  - {at: 95 mm, part: SL-6}\n",
			bad:  "  - &r {at: 0 mm, part: T-6}\n  - *r\n",
			want: `skerry-10.yaml:24:5: &r is an anchor; write the value out where it is needed
skerry-10.yaml:25:5: *r is an alias; write the value out`,
		},
		{
			name: "merge key",
			old:  "{at: 95 mm, part: SL-6}",
			bad:  "{<<: {at: 95 mm}, part: SL-6}",
			want: `skerry-10.yaml:25:5: rings[#2].at: is missing; expected a length such as 25 mm
skerry-10.yaml:25:6: rings[#2].<<: unknown key "<<"; known here: at, part, whipping`,
		},
		{
			name: "tag",
			old:  "name: Skerry 10",
			bad:  "name: !!str Skerry 10",
			want: `skerry-10.yaml:1:7: !!str is a tag; write the value without it`,
		},
		{
			name: "two documents",
			old:  "finish:",
			bad:  "---\nfinish:",
			want: `skerry-10.yaml:32:1: a second document begins here; a file holds one, so take out the ---`,
		},
		{
			name: "second document only begun",
			old:  "tolerances: {wall: 0.04 mm}\n",
			bad:  "tolerances: {wall: 0.04 mm}\n---\n",
			want: `skerry-10.yaml:38:1: a second document begins here; a file holds one, so take out the ---`,
		},
		{
			name: "indented with tabs",
			old:  "  seat: {at: 560 mm from butt, part: seat-16}\n  grips:",
			bad:  "\tseat: {at: 560 mm from butt, part: seat-16}\n \tgrips:",
			want: `skerry-10.yaml:28:1: indented with a tab; indent with spaces
skerry-10.yaml:29:2: indented with a tab; indent with spaces`,
		},
		{
			name: "not UTF-8",
			old:  "colour: moss",
			bad:  "colour: gr\xfcn",
			want: `skerry-10.yaml:32:51: the file is not UTF-8 text; save it as UTF-8`,
		},
		{
			name: "control character",
			old:  "colour: moss",
			bad:  "colour: mo\x00ss",
			want: `skerry-10.yaml:32:51: a control character that does not show; retype the line`,
		},
		{
			name: "nested too deep",
			old:  "colour: moss",
			bad:  "colour: [[[[[[[[[[[[[[[[[[[[[[moss]]]]]]]]]]]]]]]]]]]]]]",
			want: `skerry-10.yaml:32:49: finish.colour: is a list; expected a word
skerry-10.yaml:32:68: nested more than 20 levels deep`,
		},
		{
			name: "nested beyond the library",
			old:  "colour: moss",
			bad:  "colour: " + strings.Repeat("[", 20000),
			want: `skerry-10.yaml:32:1: not readable as YAML: nested too deep`,
		},
		{
			name: "2 MiB",
			old:  "colour: moss",
			bad:  "colour: moss # " + strings.Repeat("x", 2<<20),
			want: `skerry-10.yaml:1:1: the file has 2098268 bytes; the most is 1 MiB`,
		},
		{
			name: "several faults by position",
			old:  "length: 10 ft\nsections:\n  - name: butt\n    length: 1565 mm\n",
			bad:  "lenght: 10 ft\nsections:\n  - name: butt\n    length: 1565\n",
			want: `skerry-10.yaml:1:1: length: is missing; expected a length such as 25 mm
skerry-10.yaml:6:1: lenght: unknown key "lenght"; did you mean length?
skerry-10.yaml:9:13: sections[butt].length: "1565" has no unit; write it with one, such as 1565 mm`,
		},
	} {
		c.run(t, "skerry-10.yaml", parseModel)
	}
}

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
	} {
		c.run(t, "range.yaml", parse)
	}
}

func TestResolveFaults(t *testing.T) {
	resolve := func(file string, src []byte) error {
		m, err := models.ParseModel(file, src)
		if err != nil {
			return err
		}
		parts, materials := goodShared(t)
		_, err = models.Resolve(m, parts, materials)
		return err
	}
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
			want: `skerry-10.yaml:25:23: rings[at 95 mm].part: no ring of parts.yaml is named "whatever"`,
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
			want: `skerry-10.yaml:32:18: finish.thread: no thread of parts.yaml is named "B"; did you mean A?`,
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
