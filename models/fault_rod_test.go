package models_test

import "testing"

func TestRodFaults(t *testing.T) {
	for _, c := range []faultCase{
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
			want: `skerry-10.yaml:8:5: sections[butt]: is made in 2 ways; expected one of tube, hexagon, solid, rolled, bought or stiffness`,
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
			want: `skerry-10.yaml:22:34: joints[butt+tip].kind: "glued" is unknown; expected overlap, spigot, ferrule, put-in or splice`,
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
			name: "ferrule thicker than its radius",
			old:  "kind: overlap",
			bad:  "kind: ferrule, outside: 10 mm, wall: 6 mm, material: brass",
			want: `skerry-10.yaml:6:9: length: "10 ft" is 3048 mm, but the sections as joined come to 3130 mm; they may differ by 5 mm
skerry-10.yaml:22:65: joints[butt+tip].wall: "6 mm" is thicker than half the outside of "10 mm"`,
		},
		{
			name: "spigot shorter than its gap",
			old:  "kind: overlap, length: 82 mm",
			bad:  "kind: spigot, length: 20 mm, gap: 20 mm, outside: 8 mm, material: brass",
			want: `skerry-10.yaml:6:9: length: "10 ft" is 3048 mm, but the sections as joined come to 3150 mm; they may differ by 5 mm
skerry-10.yaml:22:62: joints[butt+tip].gap: "20 mm" is as long as the spigot, "20 mm"`,
		},
		{
			name: "gap in an overlap",
			old:  "kind: overlap",
			bad:  "kind: overlap, gap: 3 mm, mass: 2 g",
			want: `skerry-10.yaml:22:48: joints[butt+tip].gap: a gap is left at a spigot only; this joint is of kind overlap
skerry-10.yaml:22:60: joints[butt+tip].mass: belongs to a spigot or ferrule; a joint of kind overlap has no plug or sleeve`,
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
			name: "ends of a bought grip",
			old:  "diameter: 27 mm, material: cork",
			bad:  "part: fore-90, ends: 20 mm",
			want: `skerry-10.yaml:30:53: handle.grips[at 0 mm].ends: belongs to a turned grip; a bought one has its own shape`,
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
	} {
		c.run(t, "skerry-10.yaml", parseModel)
	}
}
