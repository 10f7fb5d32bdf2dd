package models_test

import (
	"strings"
	"testing"
)

func TestValueFaults(t *testing.T) {
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
			name: "decimal comma within braces, where YAML parts the number",
			old:  "wall: 1.05 mm",
			bad:  "wall: 1,05 mm",
			want: `skerry-10.yaml:11:47: sections[butt].tube[at 0 mm].wall: "1,05 mm" has a comma; write 1.05 mm with a point`,
		},
		{
			name: "span with a dash",
			old:  "casts: 10 g to 40 g",
			bad:  "casts: 10-40 g",
			want: `skerry-10.yaml:4:8: casts: "10-40 g": write a span with to, as in 10 g to 35 g`,
		},
		{
			name: "limit in other words",
			old:  "weight: at most 205 g",
			bad:  "weight: max 205 g",
			want: `skerry-10.yaml:34:11: wants.weight: "max 205 g": write a limit as at most 205 g or at least 205 g`,
		},
		{
			name: "a load without unit",
			old:  "breaks: 9 kg",
			bad:  "breaks: 9",
			want: `skerry-10.yaml:5:35: line.breaks: "9" has no unit; write it with one, such as 9 g`,
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
			name: "casts left empty",
			old:  "10 g to 40 g",
			bad:  "",
			want: `skerry-10.yaml:4:7: casts: is empty; expected a mass such as 12 g, or two as in at least A, at most B or A to B`,
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
	} {
		c.run(t, "skerry-10.yaml", parseModel)
	}
}
