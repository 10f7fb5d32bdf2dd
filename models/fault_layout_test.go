package models_test

import (
	"strings"
	"testing"
)

func TestLayoutFaults(t *testing.T) {
	for _, c := range []faultCase{
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
			want: `skerry-10.yaml:2:1: length of cork: unknown key "length of cork"; known here: name, was, family, job, bare, reel, casts, line, length, sections, blank, joints, rings, handle, held, finish, wants, tolerances, fitted, tops`,
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
			want: `skerry-10.yaml:1:1: reel: is missing; expected fixed-spool, multiplier, centrepin, fly or none`,
		},
		{
			name: "reel unknown",
			old:  "reel: fixed-spool",
			bad:  "reel: spinning",
			want: `skerry-10.yaml:3:7: reel: "spinning" is unknown; expected fixed-spool, multiplier, centrepin, fly or none`,
		},
		{
			name: "reel kind missing",
			old:  "reel: fixed-spool",
			bad:  "reel: {mass: 300 g}",
			want: `skerry-10.yaml:3:7: reel.kind: is missing; expected fixed-spool, multiplier, centrepin, fly or none`,
		},
		{
			name: "rings and no reel",
			old:  "reel: fixed-spool",
			bad:  "reel: {kind: none, height: 40 mm}",
			want: `skerry-10.yaml:3:28: reel.height: is given of no reel; leave it out, or give the kind of reel
skerry-10.yaml:25:10: rings: lead a line to no reel; give the kind of reel, or leave the tip ring alone, to which the line is tied`,
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
			name: "name over two lines",
			old:  "name: tip",
			bad:  `name: "ti\np"`,
			want: `skerry-10.yaml:14:11: sections[ti p].name: "ti p" runs over several lines; a name is one line`,
		},
		{
			name: "name with an escape",
			old:  "name: tip",
			bad:  `name: "tip\e\0"`,
			want: `skerry-10.yaml:14:11: "tip\x1b\x00" holds a character that does not show; write it without`,
		},
		{
			name: "key with a control character of the second set",
			old:  "trim: copper",
			bad:  `"tr\x9Bim": copper`,
			want: `skerry-10.yaml:32:55: "tr\u009bim" holds a character that does not show; write it without`,
		},
		{
			name: "too many rings",
			old:  "  - {at: 95 mm, part: SL-6}\n",
			bad:  strings.Repeat("  - {at: 95 mm, part: SL-6}\n", 59),
			want: `skerry-10.yaml:24:3: rings: has 61 entries; the most is 60`,
		},
		{
			name: "too many sections",
			old:  "sections:\n",
			bad:  "sections:\n" + strings.Repeat("  - {name: a, length: 1 mm}\n", 19),
			want: `skerry-10.yaml:8:3: sections: has 21 entries; the most is 20`,
		},
		{
			name: "too many entries",
			old:  "colour: moss",
			bad:  strings.Repeat("a: 1, ", 1000) + "colour: moss",
			want: `skerry-10.yaml:32:9: finish: has 1004 entries; the most is 1000`,
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
			name: "broken second document",
			old:  "finish:",
			bad:  "---\n{\nfinish:",
			want: `skerry-10.yaml:33:1: not readable as YAML: a { is not closed, or a comma is missing between its entries`,
		},
		{
			name: "key that is a list",
			old:  "finish:",
			bad:  "? [a, b]\n: c\nfinish:",
			want: `skerry-10.yaml:32:3: a key is a list; expected a word`,
		},
		{
			name: "alias for a key",
			old:  "finish:",
			bad:  "*a : c\nfinish:",
			want: `skerry-10.yaml:32:1: *a is an alias; write the value out`,
		},
		{
			name: "list of words",
			old:  "rings:\n",
			bad:  "rings:\n  - T-6\n",
			want: `skerry-10.yaml:24:5: rings[#1]: is "T-6"; expected {at: 95 mm, part: SL-6}`,
		},
		{
			name: "list entry empty",
			old:  "rings:\n",
			bad:  "rings:\n  -\n",
			want: `skerry-10.yaml:24:4: rings[#1]: is empty; expected {at: 95 mm, part: SL-6}`,
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
